"""Ground-fault protection at the outlet: present where required, tripping in time, not doubled."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.answer import Outcome, Ruling
from checks.codes.grounding import ground_fault_required
from checks.electrical.ground_fault import CLASS_A
from checks.electrical.leakage import CCID20, CLASS_A_DEVICE, in_series
from checks.source import trade
from checks.stations.circuit_facts import breaker_a, is_dwelling, least_to_ground_v, location
from checks.stations.observing import rule_source
from checks.stations.outlet.where import is_receptacle
from checks.verdict import Judgement, Severity

PEOPLE: Final = "It is what stands between a person who touches a fault and a fatal current"


def ruling(s: Situation) -> Ruling | None:
    """Return whether the code asks for protection here; nothing while a fact is missing."""
    found = _asked(s, _configuration(s))
    is_certain = found.outcome is Outcome.YES and not _hangs_on_kind(s)
    return found if is_certain or not _lacking(s) else None


def _asked(s: Situation, configuration: str | None) -> Ruling:
    amps = breaker_a(s)
    return ground_fault_required(
        s.code,
        is_receptacle=is_receptacle(s),
        place=location(s) or "",
        is_dwelling=is_dwelling(s),
        volts_to_ground_v=least_to_ground_v(s),  # the lines that bring the rule in decide
        breaker_a=float("inf") if amps is None else amps,
        configuration=configuration,
    )


def _configuration(s: Situation) -> str | None:
    return s.choice("outlet.configuration.kind") if is_receptacle(s) else None


def _hangs_on_kind(s: Situation) -> bool:
    """Return whether a receptacle that is not recorded yet would decide."""
    is_open = is_receptacle(s) and _configuration(s) is None
    return is_open and _asked(s, None).outcome is not _asked(s, "").outcome


def _lacking(s: Situation) -> str:
    """Return the fact that it depends on and that is missing; empty where none is."""
    if location(s) is None:
        return "place, at the surroundings"
    if breaker_a(s) is None:
        return "breaker's rating"
    return "receptacle's configuration" if _hangs_on_kind(s) else ""


def _judge_presence(s: Situation) -> Judgement:
    asked = ruling(s)
    if asked is None:
        return not_measured(
            f"Whether it is required depends on the {_lacking(s)}, which is missing"
        )
    device = s.choice("outlet.ground_fault.device")
    if device is None:
        return not_measured(f"Here: {asked.why}", sources=asked.sources)
    return _absent(asked) if device == "none" else _present(s, asked)


def _absent(asked: Ruling) -> Judgement:
    remedy = "Keep it unused until Class A protection is installed"
    if asked.outcome is Outcome.READ_TWO_WAYS:
        return unsettled(
            f"No ground-fault protection; read two ways: {asked.why}",
            "Ask the authority having jurisdiction, and read the charger's instructions",
            why=PEOPLE,
            remedy="Record the authority's answer; follow the charger's instructions",
            sources=asked.sources,
        )
    is_required = asked.outcome is Outcome.YES
    return seen(
        not is_required,
        explanation=f"No ground-fault protection, and {asked.why}"
        if is_required
        else "No ground-fault device upstream, and none is required by this code here",
        source=asked.source,
        why=PEOPLE,
        remedy=remedy,
    ).model_copy(update={"sources": asked.sources})


def _present(s: Situation, asked: Ruling) -> Judgement:
    kind = s.choice("outlet.ground_fault.device_class")
    accessible = s.yes("outlet.ground_fault.is_accessible")
    is_required = asked.outcome is Outcome.YES
    if kind is None or (accessible is None and is_required):
        return not_measured("Class and access of the device are missing", sources=asked.sources)
    parts = [_class(kind, Severity.WARNING if is_required else Severity.NOTICE)]
    if is_required:
        parts.append(
            seen(
                bool(accessible),
                explanation="The device is not readily accessible",
                source=asked.source,
                why="A device that cannot be reached is not tested each month",
                remedy="Move the device, or protect the circuit at its breaker",
                severity=Severity.CAUTION,
            )
        )
    return together(parts, good=f"Class A protection is present; {asked.why}")


def _class(kind: str, severity: Severity) -> Judgement:
    if kind == "unknown":
        return unsettled(
            "The class of the device cannot be read",
            "Read its label with the circuit off, or look its part number up",
            why=PEOPLE,
            sources=(CLASS_A,),
        )
    is_class_a = kind == "class_a"
    return seen(
        is_class_a,
        explanation="The device is Class A, for people"
        if is_class_a
        else "The device is not Class A: it protects equipment, not people",
        source=CLASS_A,
        why=PEOPLE,
        remedy="Have a Class A device installed",
        severity=severity,
    )


SERIES: Final = trade("of two ground-fault devices in series the more sensitive trips, or both")


def _judge_series(s: Situation) -> Judgement:
    second = s.choice("outlet.series_devices.second")
    says = s.choice("outlet.series_devices.instructions")
    device = s.choice("outlet.ground_fault.device")
    if second is None or says is None or device is None:
        return not_measured("Record the device, a second one, and what the instructions say")
    count = (device != "none") + (second != "none")
    if count and says == "forbid":
        return _forbidden(s)
    judged = seen(
        count <= 1,
        explanation=SERIES_WORDS[count],
        source=SERIES,
        why="Standing leakage and the charger's self-test add up; the car is not charged by "
        "morning, and nobody knows which device to look at",
        remedy="Keep the one that the code asks for, and have the other taken out of the line",
        severity=Severity.NOTICE,
    )
    return judged.model_copy(update={"working": _race(s) if count else ()})


SERIES_WORDS: Final = (
    "Only the charger's own device is in the line",
    "One device upstream in series with the charger's own: should it trip, look there first",
    "Two devices upstream, and the charger's own: any of them may trip",
)


def _race(s: Situation) -> tuple[str, ...]:
    """Return what a Class A device upstream and the charger's own do at the current of each."""
    if s.choice("outlet.ground_fault.device_class") != "class_a":
        return ()
    currents = (CLASS_A_DEVICE.must_trip_ma, CCID20.must_trip_ma)
    return tuple(line for ma in currents for line in in_series(CLASS_A_DEVICE, CCID20, ma).why)


def _forbidden(s: Situation) -> Judgement:
    asked = ruling(s)
    remedy = "Ask the charger's maker and the authority which of the two gives way"
    explanation = "A ground-fault device feeds a charger whose instructions forbid one upstream"
    if asked is None or asked.outcome is not Outcome.NO:
        return unsettled(
            explanation + ", where the code may ask for it",
            "Ask the authority having jurisdiction",
            remedy=remedy,
            sources=(SERIES,) if asked is None else asked.sources,
        )
    return seen(
        False,
        explanation=explanation,
        source=rule_source(s, "listed use"),
        why="The charger's self-test trips the device, or either hides a fault from the other",
        remedy=remedy,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.ground_fault",
        title="Ground-fault protection",
        how="Look at breaker and receptacle for a test button; read class and trip level there.",
        inputs=(
            Choice(
                "device",
                "Device",
                options=(
                    Option("breaker", "In the breaker"),
                    Option("receptacle", "In the receptacle"),
                    Option("other", "Elsewhere upstream"),
                    Option("none", "None"),
                ),
            ),
            Choice(
                "device_class",
                "Class",
                options=(
                    Option("class_a", "Class A, 5 mA, for people"),
                    Option("equipment", "20 mA, 30 mA or more"),
                    Option("unknown", "Cannot be read"),
                ),
                when=When("device", ("breaker", "receptacle", "other")),
            ),
            YesNo(
                "is_accessible",
                "Readily accessible",
                good=True,
                when=When("device", ("breaker", "receptacle", "other")),
            ),
        ),
        judge=_judge_presence,
    ),
    Check(
        id="outlet.series_devices",
        title="Devices in series",
        how=(
            "Follow the circuit from the panel: count ground-fault devices before the charger, "
            "and read what the charger's instructions say about one upstream."
        ),
        inputs=(
            Choice(
                "second",
                "A second device upstream",
                options=(Option("none", "None"), Option("present", "There is one")),
            ),
            Choice(
                "instructions",
                "Charger's instructions",
                options=(
                    Option("allow", "Allow one upstream"),
                    Option("silent", "Say nothing"),
                    Option("forbid", "Forbid one upstream"),
                    Option("unread", "Not at hand"),
                ),
            ),
        ),
        judge=_judge_series,
    ),
)
