"""The pilot's voltages: each against its window, and the fault that they point to."""

from collections.abc import Mapping
from math import inf
from typing import Final

from checks.check import (
    Check,
    CircuitState,
    Measurement,
    Situation,
    compare,
    not_measured,
    together,
)
from checks.electrical.pilot import (
    NEGATIVE,
    WINDOWS,
    WINDOWS_SOURCE,
    PilotState,
    Window,
)
from checks.electrical.pilot_circuit import COMPONENTS, DIODE_V, OPEN_V, series_ohm
from checks.electrical.pilot_faults import NEAR, Fault, Suspicion, suspicions
from checks.quantity import nominal
from checks.record import InstrumentKind
from checks.stations.charger.signals import LIVE, SIMULATOR
from checks.units import Number
from checks.verdict import Force, Judgement, Severity, Verdict, at_least, at_most


def _of(state: str) -> str:
    return f"pilot, {state}"


def _window(volts: Number, window: Window, state: str) -> Judgement:
    of = _of(state)
    return compare(
        volts,
        "V",
        (
            at_least(window.low_v, "V", Force.LISTING, WINDOWS_SOURCE, of=of),
            at_most(window.high_v, "V", Force.LISTING, WINDOWS_SOURCE, of=of),
        ),
        explanation=f"Pilot, {state}: {nominal(volts):.2f} V",
        why="The vehicle may read a wrong state and not charge, or not stop",
        remedy="Look for moisture, a worn contact or a damaged cable with the circuit dead; keep "
        "it unused until the pilot is right",
        severity=Severity.CAUTION,
        of=of,
        sources=(WINDOWS_SOURCE,),
    )


PILOT_PLACES: Final = (
    ("charger.pilot_voltage.state_a", WINDOWS[PilotState.A], "without vehicle"),
    ("charger.pilot_voltage.state_b", WINDOWS[PilotState.B], "vehicle connected"),
    ("charger.pilot_voltage.state_c", WINDOWS[PilotState.C], "vehicle wants energy"),
    ("charger.pilot_voltage.negative", NEGATIVE, "negative peak"),
)


REMEDIES: Final[Mapping[Fault, str]] = {
    Fault.DIODE_SHORTED: "Try another simulator; where the vehicle shows it too, have its inlet "
    "mended",
    Fault.SERIES: "With the circuit dead, look at pilot and ground contact of the connector for "
    "dirt, wear or a loose crimp, and replace the cable where they are",
    Fault.LEAK: "With the circuit dead, let the connector dry, look for water and a damaged cable, "
    "and keep it unused until the pilot is right",
    Fault.TO_GROUND: "See whether the charger has power and shows a fault; with the circuit dead, "
    "have cable and connector replaced where pilot and ground touch",
    Fault.TO_PROXIMITY: "With the circuit dead, have the connector replaced: pilot and proximity "
    "touch in it",
    Fault.OPEN: "With the circuit dead, look for a broken pilot or ground conductor in cable and "
    "connector; it carries the ground too, so keep it unused",
}
BROKEN_GROUND: Final = (
    "An open or poor ground in the cable leaves the vehicle's body alive in a fault"
)


def _suspected(s: Situation) -> tuple[tuple[PilotState, Suspicion], ...]:
    """Return what the peaks with a vehicle or simulator point to, each with its state."""
    negative = s.measured("charger.pilot_voltage.negative")
    found: list[tuple[PilotState, Suspicion]] = []
    for reference, state in (
        ("charger.pilot_voltage.state_b", PilotState.B),
        ("charger.pilot_voltage.state_c", PilotState.C),
    ):
        positive = s.measured(reference)
        if positive is not None and negative is not None:
            found += _of_state(state, nominal(positive), nominal(negative))
    return tuple(found)


def _of_state(
    state: PilotState, positive_v: float, negative_v: float
) -> list[tuple[PilotState, Suspicion]]:
    """Return the faults in one state, whose resistor in the vehicle is known."""
    found = []
    for each in suspicions(positive_v, negative_v, is_vehicle_there=True):
        if each.fault is not Fault.SERIES:
            found.append((state, each))
        elif DIODE_V < positive_v < OPEN_V and series_ohm(positive_v, state) > 0:
            found.append((state, Suspicion(each.fault, series_ohm(positive_v, state))))
    return list(dict.fromkeys(found))


def _words(state: PilotState, found: Suspicion) -> str:
    ohm = "" if found.ohm is None or found.ohm == inf else f", about {found.ohm:.0f} Ω"
    return f"state {state.name}: {found.fault}{ohm}"


def _with_suspicions(s: Situation, judged: Judgement) -> Judgement:
    """Add what the peaks point to, where any of them is not as it should be."""
    found = _suspected(s)
    if judged.verdict not in (Verdict.OUTSIDE, Verdict.BORDERLINE) or not found:
        return judged
    faults = tuple(dict.fromkeys(each.fault for _, each in found))
    opens_ground = Fault.OPEN in faults or Fault.SERIES in faults
    return judged.model_copy(
        update={
            "explanation": f"{judged.explanation}. It points to {faults[0]}",
            "remedy": ". ".join(REMEDIES[fault] for fault in faults),
            "why": f"{judged.why}. {BROKEN_GROUND}" if opens_ground else judged.why,
            "sources": tuple(dict.fromkeys((*judged.sources, COMPONENTS, NEAR))),
            "working": (*judged.working, *(_words(state, each) for state, each in found)),
        }
    )


def _judge_pilot(s: Situation) -> Judgement:
    parts, missing = [], []
    for reference, window, state in PILOT_PLACES:
        volts = s.measured(reference)
        if volts is None:
            missing.append(state)
        else:
            parts.append(_window(volts, window, state))
    if missing:
        limits = tuple(
            make(edge, "V", Force.LISTING, WINDOWS_SOURCE, of=_of(state))
            for _, window, state in PILOT_PLACES
            if state in missing
            for make, edge in ((at_least, window.low_v), (at_most, window.high_v))
        )
        parts.append(not_measured(f"The pilot is missing: {', '.join(missing)}", limits))
    return _with_suspicions(s, together(parts))


def _pilot_volts(name: str, label: str, state: str) -> Measurement:
    return Measurement(
        name,
        label,
        plausible=(-13.0, 13.0),
        instruments=(InstrumentKind.PILOT, InstrumentKind.MULTIMETER),
        access_point=SIMULATOR,
        signed=True,
        against=(_of(state),),
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.pilot_voltage",
        touches=True,
        title="Pilot voltages",
        quantity="Pilot",
        how=(
            "Read the positive peak of the pilot in each state of the simulator, and the negative "
            "peak while it oscillates. A plain voltmeter shows the mean of an oscillating pilot, "
            "not its peak: use a pilot tester."
        ),
        inputs=(
            _pilot_volts("state_a", "No vehicle", "without vehicle"),
            _pilot_volts("state_b", "Connected, positive peak", "vehicle connected"),
            _pilot_volts("state_c", "Wants energy, positive peak", "vehicle wants energy"),
            _pilot_volts("negative", "Negative peak", "negative peak"),
        ),
        judge=_judge_pilot,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
    ),
)
