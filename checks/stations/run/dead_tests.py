"""Insulation and polarity of the run, measured on the dead circuit with equipment disconnected."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    YesNo,
    compare,
    not_measured,
    together,
)
from checks.electrical.insulation import least_ohm
from checks.quantity import Dimension, amount
from checks.record import Category, InstrumentKind
from checks.source import trade
from checks.stations.circuit_facts import circuit_poles
from checks.stations.observing import BESIDE_BUS, INSIDE, Sign, signs_of
from checks.stations.outlet.where import is_receptacle, kind
from checks.verdict import Force, Judgement, Limit, Severity, at_least

# input, what is between
PAIRS: Final = (
    ("line_ground", "line 1 to ground"),
    ("second_ground", "line 2 or neutral to ground"),
    ("between", "line 1 to line 2 or neutral"),
)
FULL_TEST: Final = "500"


def _limit(s: Situation) -> Limit:
    test_v = float(s.choice("run.insulation.test_v") or FULL_TEST)  # asked for before it judges
    least, source = least_ohm(test_v)
    return at_least(
        least, "MΩ", Force.RECOMMENDATION, source, of="insulation", working=(f"at {test_v:g} V DC",)
    )


def _judge_insulation(s: Situation) -> Judgement:
    limit = _limit(s)
    values = [(s.measured(f"run.insulation.{name}"), between) for name, between in PAIRS]
    if s.yes("run.insulation.is_disconnected") is False:
        return not_measured("Disconnect charger and electronics first, then test", (limit,))
    missing = [between for value, between in values if value is None]
    if s.choice("run.insulation.test_v") is None:
        missing.insert(0, "the test voltage")
    if s.yes("run.insulation.is_disconnected") is None:
        missing.insert(0, "whether charger and electronics are disconnected")
    if missing:
        return not_measured(f"Still open: {', '.join(missing)}", (limit,))
    return together(
        [
            compare(
                value,
                "MΩ",
                (limit,),
                explanation=f"Insulation from {between}: {amount(value, 'MΩ')}",
                why="Weak insulation leaks, trips, shocks and in the end shorts",
                remedy="Keep the circuit dead and locked; find the wet or damaged stretch and "
                "replace it, then test again",
                severity=Severity.WARNING,
            )
            for value, between in values
            if value is not None
        ]
    )


POLARITY: Final = trade("a conductor is what continuity says, end to end, not what its color says")


def _identified(name: str, label: str, bad: str) -> Sign:
    return Sign(
        YesNo(name, label, good=True),
        POLARITY,
        bad,
        "A crossed conductor puts a line where a hand expects ground or neutral",
        "Keep the circuit dead and locked; identify each conductor end to end and land it right",
        Severity.DANGER,
    )


LINE: Final = _identified(
    "is_line_right", "Line 1 on its terminal", "Line 1 does not land on its terminal"
)
SECOND: Final = _identified(
    "is_second_right",
    "Line 2 or neutral on its own",
    "Line 2, or the neutral of a 120 V outlet, does not land on its terminal",
)
GROUND: Final = _identified(
    "is_ground_right", "Ground on ground only", "The ground does not land on ground alone"
)
SPARE: Final = Sign(
    YesNo(
        "is_neutral_right",
        "Neutral beside two lines",
        good=True,
        optional=True,
        help="Lands on its own terminal; only at an outlet of two lines, neutral and ground",
    ),
    POLARITY,
    "The neutral of a four-wire outlet does not land on its terminal",
    "A later load on that receptacle would see line voltage where it expects 120 V",
    "Keep the circuit dead and locked; identify the neutral and land it right",
    Severity.WARNING,
)
SIGNS: Final = (LINE, SECOND, GROUND, SPARE)


def _judge_polarity(s: Situation) -> Judgement:
    parts = list(signs_of(s, "run.polarity", SIGNS))
    if _may_have_spare_neutral(s) and s.yes("run.polarity.is_neutral_right") is None:
        parts.append(
            not_measured(
                "Still open: the neutral beside two lines"
                if kind(s) is not None
                else "Record the receptacle's configuration, or say whether a neutral beside two "
                "lines lands right"
            )
        )
    return together(parts, good="Every conductor identified end to end, each on its terminal")


def _may_have_spare_neutral(s: Situation) -> bool:
    """Return whether a neutral beside two lines ends here, or may for all that is recorded."""
    if not is_receptacle(s) or circuit_poles(s) == 1:
        return False
    found = kind(s)
    return found is None or (found.has_neutral and len(found.volts) > 1)


def _megohms(name: str, between: str) -> Measurement:
    return Measurement(
        name,
        f"{between[0].upper()}{between[1:]}",
        help="Over range: enter the highest value the tester shows",
        dimension=Dimension.RESISTANCE,
        units=("MΩ", "GΩ"),
        plausible=(1e5, 1e12),
        instruments=(InstrumentKind.INSULATION,),
        category=Category.CAT_III,
        access_point="conductor ends at the outlet, both ends open",
    )


CHECKS: Final = (
    Check(
        id="run.insulation",
        title="Insulation",
        how="Dead, locked and proved. Take the conductors off breaker and charger; disconnect "
        "everything electronic: ground-fault breaker or receptacle, surge device, meter, and all "
        "that is plugged in. Keep people away from the far end. Test each pair, then discharge.",
        inputs=(
            YesNo(
                "is_disconnected",
                "Electronics disconnected",
                good=True,
                help="Charger, vehicle, ground-fault and surge devices, and all that is plugged in",
            ),
            Choice(
                "test_v",
                "Test voltage, DC",
                options=(Option("250", "250 V"), Option("500", "500 V"), Option("1000", "1000 V")),
                help="500 V for a circuit up to 500 V; 1000 V only where cable and devices are "
                "rated for it",
            ),
            *(_megohms(name, between) for name, between in PAIRS),
        ),
        judge=_judge_insulation,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        needs=(INSIDE,),
        cautions=(
            BESIDE_BUS,
            Caution(
                Severity.WARNING,
                "The tester puts up to 1000 V on both ends of the run. Nobody touches the far "
                "end; electronics still connected are destroyed; discharge before you touch it.",
            ),
        ),
    ),
    Check(
        id="run.polarity",
        title="Polarity, end to end",
        how="Dead, locked and proved. Identify each conductor by continuity from the panel to its "
        "terminal at the outlet; do not trust its color.",
        inputs=tuple(sign.input for sign in SIGNS),
        judge=_judge_polarity,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        needs=(INSIDE,),
        cautions=(BESIDE_BUS,),
    ),
)
