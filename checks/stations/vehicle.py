"""The vehicle and what is checked there."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    compare,
    not_measured,
    together,
    unsettled,
)
from checks.electrical.energy import efficiency, power_kw, shortfall_pct
from checks.quantity import nominal
from checks.source import Basis, Source, judgement
from checks.stations.charger.signals import offered_a
from checks.stations.circuit_facts import SIGNAL, signal_tolerance_a
from checks.stations.connector import pin_signs
from checks.stations.observing import sees
from checks.stations.outlet.no_load import reachable
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

SHORT_PCT: Final = 15.0
SHORT: Final = judgement(
    "a vehicle's display is believed within 15 %, its own error included; it may show battery "
    "power, after its charger, which at Level 1 is down to 80 %"
)
DRAW: Final = Source(
    document="SAE J1772", clause="current drawn, at most as offered", basis=Basis.LOOKED_UP
)

REPLACE: Final = (
    "Do not charge by this inlet until the vehicle's workshop has replaced it; have the connector "
    "that was in it looked at"
)
INLET_SIGNS: Final = pin_signs("vehicle's inlet", REPLACE)


def _expected_kw(s: Situation) -> Number | None:
    volts = s.measured("outlet.loaded_voltage.outlet_loaded")
    current_a = s.measured("outlet.loaded_voltage.current")
    if volts is None or current_a is None or nominal(current_a) <= 0 or nominal(volts) <= 0:
        return None
    return power_kw(volts, current_a)


def _power_limits(expected_kw: Number | None, level: int) -> tuple[Limit, ...]:
    if expected_kw is None:
        return ()
    watts = 1000 * nominal(expected_kw)
    line = f"volts × amps at the outlet: {watts / 1000:.2f} kW"
    low = min(1 - SHORT_PCT / 100, efficiency(level).low)
    high = 1 + SHORT_PCT / 100
    return (
        at_least(
            watts * low, "kW", Force.TRADE_JUDGEMENT, SHORT, of="on the display", working=(line,)
        ),
        at_most(
            watts * high, "kW", Force.TRADE_JUDGEMENT, SHORT, of="on the display", working=(line,)
        ),
    )


def _display(s: Situation, shown_w: Number, expected_kw: Number) -> Judgement:
    limits = _power_limits(expected_kw, s.point.level)
    shown_kw, wanted_kw = nominal(shown_w) / 1000, nominal(expected_kw)
    short = nominal(shortfall_pct(shown_kw, wanted_kw))
    words = f"The vehicle shows {shown_kw:.1f} kW of {wanted_kw:.1f} kW at the outlet"
    judged = compare(
        nominal(shown_w),
        "kW",
        limits,
        explanation=words,
        why="Volts, amps and display do not belong together: one of them is misread"
        if short < 0
        else "What is missing is used on the way, by the vehicle itself, or misread",
        remedy="Read all three again within one minute; then look at cabin heating, battery "
        "temperature and the vehicle's own limit",
        severity=Severity.NOTICE,
        of="on the display",
        telling=f"{shown_kw:.1f} kW",
    )
    reason = s.choice("vehicle.power.reason")
    if judged.verdict is Verdict.OUTSIDE and short > 0 and reason not in (None, "none"):
        told = REASONS[reason or "none"].lower()
        return unsettled(
            f"{words}; {told} may explain it",
            "Read again when it no longer holds",
            severity=Severity.NOTICE,
            limits=limits,
            sources=(SHORT,),
        ).model_copy(update={"telling": judged.telling, "measured": judged.measured})
    return judged


REASONS: Final = {
    "none": "None known",
    "full": "Battery nearly full",
    "temperature": "Battery cold or hot",
    "limit": "Limit set in the vehicle",
    "cabin": "Cabin heating or cooling",
}


def _drawn(s: Situation) -> Judgement | None:
    """Return whether the vehicle keeps to what it is offered, where both were read."""
    offer_a, current_a = offered_a(s), s.measured("outlet.loaded_voltage.current")
    if offer_a is None or current_a is None:
        return None
    most_a = nominal(offer_a) + signal_tolerance_a(nominal(offer_a))
    limit = at_most(
        most_a, "A", Force.LISTING, DRAW, of="drawn", working=(f"offered, and {SIGNAL}",)
    )
    return compare(
        current_a,
        "A",
        (limit,),
        explanation=f"It draws {nominal(current_a):.1f} A of {nominal(offer_a):.1f} A offered",
        why="A vehicle that takes more than it is offered overloads the circuit",
        remedy="End the charge at the vehicle; do not charge it here before its maker has "
        "looked at it",
        severity=Severity.WARNING,
        of="drawn",
    )


def _judge_power(s: Situation) -> Judgement:
    expected_kw, shown_w = _expected_kw(s), s.measured("vehicle.power.displayed")
    limits = _power_limits(expected_kw, s.point.level)
    drawn = _drawn(s)
    parts = [] if drawn is None else [drawn]
    if expected_kw is None or shown_w is None:
        missing = "The display" if shown_w is None else "Volts and amps under load, at the outlet,"
        parts.append(not_measured(f"{missing} is missing", limits))
    else:
        parts.append(_display(s, shown_w, expected_kw))
    telling = "" if shown_w is None else f"{nominal(shown_w) / 1000:.1f} kW"
    return together(parts, telling=telling)


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="vehicle.power",
        needs=("connector.seating", "adapter.seating", "adapter.listing"),
        title="Power on the display",
        quantity="Power",
        how=(
            "While volts and amps are read at the outlet, read the charging power that the "
            "vehicle shows. Above about 90 % charge every vehicle tapers: that is no fault."
        ),
        inputs=(
            Measurement(
                "displayed",
                "Vehicle shows",
                dimension=Dimension.POWER,
                units=("kW", "W"),
                plausible=(300.0, 22_000.0),
                access_point="the vehicle's display",
                against=("on the display",),
            ),
            Choice(
                "reason",
                "Known reason for less",
                options=tuple(Option(value, label) for value, label in REASONS.items()),
            ),
        ),
        judge=_judge_power,
        state=CircuitState.UNDER_LOAD,
        applies=reachable,
        tells=True,
    ),
    Check(
        id="vehicle.inlet_condition",
        title="Vehicle's inlet",
        how="With nothing plugged in and a good light look into the inlet; touch no pin.",
        inputs=tuple(sign.input for sign in INLET_SIGNS),
        judge=sees("vehicle.inlet_condition", INLET_SIGNS, "Inlet clean and whole"),
        state=CircuitState.NO_CURRENT,
        gates=True,
        no_limit_because="wear is seen, not measured",
    ),
)
