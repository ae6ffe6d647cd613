"""The current that the charger offers to the vehicle, against its setting and its circuit."""

from typing import Final, NamedTuple

from uncertainties import ufloat

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    When,
    compare,
    not_measured,
    unsettled,
)
from checks.codes.circuit import largest_charger_a
from checks.electrical.pilot import (
    DutyBand,
    duty_for,
    offered,
)
from checks.errors import OutOfRangeError
from checks.quantity import COVERAGE, expanded, nominal
from checks.record import InstrumentKind
from checks.source import Source
from checks.stations.circuit_facts import SIGNAL, breaker_a, signal_tolerance_a
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

SIMULATOR: Final = "vehicle simulator or pilot tester on the connector, no vehicle"
LIVE: Final = Caution(
    Severity.WARNING,
    "Only through a listed test adapter or simulator: never a probe into the connector.",
)


def _offer_limits(s: Situation) -> tuple[Limit, ...]:
    limits = []
    amps, configured_a = breaker_a(s), s.rating("charger.configuration.configured_a")
    if amps is not None:
        most = largest_charger_a(s.code, amps)
        limits.append(
            at_most(
                most.value + signal_tolerance_a(most.value),
                "A",
                most.force,
                most.source,
                of=f"{most.value:g} A by the breaker, and the signal's tolerance",
                working=(*most.working, f"plus {SIGNAL}"),
            )
        )
    if configured_a is not None:
        for make, sign in ((at_least, -1), (at_most, 1)):
            value = configured_a + sign * signal_tolerance_a(configured_a)
            duty = _duty_words(configured_a)
            limits.append(
                make(value, "A", Force.TRADE_JUDGEMENT, SIGNAL, of="by its setting", working=duty)
            )
    return tuple(limits)


def _duty_words(set_a: float) -> tuple[str, ...]:
    """Return the duty cycle that a setting should show; nothing outside the signal's range."""
    try:
        return (f"{set_a:g} A is a duty cycle of {duty_for(set_a):.1f} %",)
    except OutOfRangeError:
        return ()


def _offered_a(duty_pct: Number) -> tuple[Number, DutyBand, Source]:
    """Return the offered current with what the duty's uncertainty leaves open."""
    middle, spread = nominal(duty_pct), expanded(duty_pct)
    offer = offered(middle)
    edges = [offered(min(100.0, max(0.0, middle + way * spread))).current_a for way in (-1, 1)]
    half_a = max(abs(edge - offer.current_a) for edge in edges)
    amps = ufloat(offer.current_a, half_a / COVERAGE) if half_a > 0 else offer.current_a
    return amps, offer.band, offer.source


def offered_a(s: Situation) -> Number | None:
    """Return the current that the charger was found to offer, if it was read. [A]."""
    if s.choice("charger.offered_current.method") == "amps":
        return s.measured("charger.offered_current.amps")
    duty_pct = s.measured("charger.offered_current.duty")
    try:
        return None if duty_pct is None else _offered_a(duty_pct)[0]
    except OutOfRangeError:
        return None


class Meaning(NamedTuple):
    """What an offer that is not as it was set means."""

    why: str
    remedy: str
    severity: Severity


OVERLOADS: Final = Meaning(
    "The vehicle draws what is offered, for hours",
    "Stop charging, and have the setting corrected before it is used",
    Severity.WARNING,
)
MORE: Final = Meaning(
    "The signal offers more than was set, and the vehicle takes it",
    "Read the setting again and have it corrected; until then set the vehicle's own current to "
    "what was meant",
    Severity.CAUTION,
)
LESS: Final = Meaning(
    "It charges slower than it was set to; nothing is overloaded",
    "Look for a schedule, load management, heat or another setting that holds it back, and have "
    "it set to what is wanted",
    Severity.NOTICE,
)


def _meaning(s: Situation, amps: float) -> Meaning:
    """Say whether an offer overloads the circuit, exceeds its setting, or is only slow."""
    breaker, configured_a = breaker_a(s), s.rating("charger.configuration.configured_a")
    if breaker is not None and amps > largest_charger_a(s.code, breaker).value:
        return OVERLOADS
    return LESS if configured_a is not None and amps < configured_a else MORE


def _judge_offer(s: Situation) -> Judgement:
    limits = _offer_limits(s)
    duty_pct = s.measured("charger.offered_current.duty")
    amps = offered_a(s)
    sources: tuple[Source, ...] = ()
    if amps is None or not limits:
        missing = "Setting and breaker are" if amps is not None else "The offered current is"
        return not_measured(f"{missing} missing", limits)
    words = f"It offers {nominal(amps):.1f} A"
    if s.choice("charger.offered_current.method") == "duty" and duty_pct is not None:
        amps, band, source = _offered_a(duty_pct)
        sources = (source,)
        words = f"A duty cycle of {nominal(duty_pct):g} % offers {nominal(amps):.1f} A"
        if nominal(amps) == 0:
            return unsettled(
                f"A duty cycle of {nominal(duty_pct):g} % offers no current: {band}",
                "See whether the charger waits for a schedule, an account or a digital dialogue",
                limits=limits,
                sources=sources,
            )
    return _compared(s, amps, limits, words, sources)


def _compared(
    s: Situation, amps: Number, limits: tuple[Limit, ...], words: str, sources: tuple[Source, ...]
) -> Judgement:
    """Hold the offer against its limits; a doubtful reading of the signal proves nothing."""
    meaning = _meaning(s, nominal(amps))
    judged = compare(
        amps,
        "A",
        limits,
        explanation=words,
        why=meaning.why,
        remedy=meaning.remedy,
        severity=meaning.severity,
        of="offered current",
        telling=f"{nominal(amps):.1f} A",
        sources=sources,
    )
    unproven = next((source for source in sources if not source.can_prove), None)
    if judged.verdict is not Verdict.WITHIN or unproven is None:
        return judged
    open_ = unsettled(
        f"{words}, by a duty that the editions of the standard read differently",
        "Read the current that flows with a vehicle that may take all of it",
        remedy="Set the charger to a current away from the ends of its range",
        severity=Severity.NOTICE,
        limits=limits,
        sources=sources,
    )
    return open_.model_copy(update={"telling": judged.telling})


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.offered_current",
        touches=True,
        title="Offered current",
        quantity="Offered",
        how=(
            "Set the simulator to a connected vehicle and read the duty cycle of the pilot, or "
            "the amps that the tester computes from it."
        ),
        inputs=(
            Choice(
                "method",
                "Read as",
                options=(Option("duty", "Duty cycle"), Option("amps", "Amps")),
            ),
            Measurement(
                "duty",
                "Duty cycle",
                dimension=Dimension.RATIO,
                units=("%",),
                plausible=(4.0, 97.0),
                instruments=(InstrumentKind.PILOT,),
                access_point=SIMULATOR,
                when=When("method", ("duty",)),
            ),
            Measurement(
                "amps",
                "Offered current",
                dimension=Dimension.CURRENT,
                units=("A",),
                plausible=(6.0, 80.0),
                instruments=(InstrumentKind.PILOT,),
                access_point=SIMULATOR,
                when=When("method", ("amps",)),
                against=EVERY,
            ),
        ),
        judge=_judge_offer,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
        tells=True,
    ),
)
