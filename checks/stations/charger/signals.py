"""What the charger says to the vehicle: the pilot's voltages and the current it offers."""

from typing import Final

from uncertainties import ufloat

from checks.check import (
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
    together,
    unsettled,
)
from checks.codes.circuit import largest_charger_a
from checks.electrical.pilot import (
    NEGATIVE,
    WINDOWS,
    WINDOWS_SOURCE,
    DutyBand,
    PilotState,
    Window,
    offered,
)
from checks.errors import OutOfRangeError
from checks.quantity import COVERAGE, Dimension, Number, expanded, nominal
from checks.record import InstrumentKind
from checks.source import Source, judgement
from checks.stations.circuit_facts import breaker_a
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

SIGNAL_RATIO: Final = 0.05
SIGNAL_LEAST_A: Final = 1.0
SIGNAL: Final = judgement("5 %, at least 1 A, for the tolerance of the pilot signal and its tester")
SIMULATOR: Final = "vehicle simulator or pilot tester on the connector, no vehicle"
LIVE: Final = Caution(
    Severity.WARNING,
    "Only through a listed test adapter or simulator: never a probe into the connector.",
)


def signal_tolerance_a(amps: float) -> float:
    """Return how far an offered current may be read beside what was set. [A]."""
    return max(SIGNAL_LEAST_A, SIGNAL_RATIO * amps)


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
                of="by the breaker",
                working=(*most.working, f"+ {SIGNAL}"),
            )
        )
    if configured_a is not None:
        for make, sign in ((at_least, -1), (at_most, 1)):
            value = configured_a + sign * signal_tolerance_a(configured_a)
            limits.append(make(value, "A", Force.TRADE_JUDGEMENT, SIGNAL, of="by its setting"))
    return tuple(limits)


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
    breaker = breaker_a(s)
    is_over = breaker is not None and nominal(amps) > largest_charger_a(s.code, breaker).value
    return compare(
        amps,
        "A",
        limits,
        explanation=words,
        why="The vehicle draws what is offered, for hours"
        if is_over
        else "The signal does not say what was set",
        remedy="Stop charging, and have the setting corrected before it is used",
        severity=Severity.WARNING if is_over else Severity.CAUTION,
        of="offered current",
        telling=f"{nominal(amps):.1f} A",
        sources=sources,
    )


def _window(volts: Number, window: Window, state: str) -> Judgement:
    of = f"pilot, {state}"
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
            make(edge, "V", Force.LISTING, WINDOWS_SOURCE, of=f"pilot, {state}")
            for _, window, state in PILOT_PLACES
            if state in missing
            for make, edge in ((at_least, window.low_v), (at_most, window.high_v))
        )
        parts.append(not_measured(f"The pilot is missing: {', '.join(missing)}", limits))
    return together(parts)


def _pilot_volts(name: str, label: str, *, optional: bool = False) -> Measurement:
    return Measurement(
        name,
        label,
        plausible=(-13.0, 13.0),
        instruments=(InstrumentKind.PILOT, InstrumentKind.MULTIMETER),
        access_point=SIMULATOR,
        signed=True,
        optional=optional,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.offered_current",
        title="Offered current",
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
            ),
        ),
        judge=_judge_offer,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
        tells=True,
    ),
    Check(
        id="charger.pilot_voltage",
        title="Pilot voltages",
        how=(
            "Read the positive peak of the pilot in each state of the simulator, and the negative "
            "peak while it oscillates. A plain voltmeter shows the mean of an oscillating pilot, "
            "not its peak: use a pilot tester."
        ),
        inputs=(
            _pilot_volts("state_a", "No vehicle"),
            _pilot_volts("state_b", "Connected, positive peak"),
            _pilot_volts("state_c", "Wants energy, positive peak"),
            _pilot_volts("negative", "Negative peak"),
        ),
        judge=_judge_pilot,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
    ),
)
