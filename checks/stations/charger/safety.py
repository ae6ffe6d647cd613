"""What the charger must do for people: dead case, contactor open, no charge without ground."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    compare,
    not_measured,
    seen,
    unsettled,
)
from checks.quantity import nominal
from checks.record import Category, InstrumentKind
from checks.source import judgement
from checks.stations.charger.signals import LIVE
from checks.stations.circuit_facts import nominal_v
from checks.stations.observing import rule_source
from checks.verdict import Force, Judgement, Severity, at_most

TOUCH_V: Final = 3.0
TOUCH: Final = judgement("a bonded enclosure stays under 3 V to another ground, low impedance")
OPEN_V: Final = 10.0
OPEN: Final = judgement("an open contactor leaves under 10 V on a low-impedance meter")
PHANTOM_RATIO: Final = 0.6  # an induced reading stays near half of the line (judgement)


def _judge_enclosure(s: Situation) -> Judgement:
    limit = at_most(TOUCH_V, "V", Force.TRADE_JUDGEMENT, TOUCH, of="enclosure to ground")
    touch_v = s.measured("charger.enclosure_voltage.touch")
    if touch_v is None:
        return not_measured("The volts on the enclosure are missing", (limit,))
    return compare(
        touch_v,
        "V",
        (limit,),
        explanation=f"{nominal(touch_v):.1f} V from exposed metal to another ground",
        why="Metal that is live shocks whoever touches it and stands on the ground",
        remedy="Switch it off at the breaker, lock it, and take the charger out of service",
        severity=Severity.DANGER,
        of="enclosure to ground",
    )


def _judge_contactor(s: Situation) -> Judgement:
    limit = at_most(OPEN_V, "V", Force.TRADE_JUDGEMENT, OPEN, of="any two contacts")
    highest_v = s.measured("charger.contactor_open.highest")
    meter = s.choice("charger.contactor_open.meter")
    if highest_v is None or meter is None:
        return not_measured("The volts at the connector without vehicle are missing", (limit,))
    volts = nominal(highest_v)
    if meter == "high" and OPEN_V < volts < PHANTOM_RATIO * nominal_v(s) / 2:
        return unsettled(
            f"{volts:.0f} V on a high-impedance meter may be induced",
            "Read again with a low-impedance meter",
            limits=(limit,),
            sources=(OPEN,),
        )
    return compare(
        highest_v,
        "V",
        (limit,),
        explanation=f"{volts:.1f} V at the connector with no vehicle",
        why="A welded contactor leaves the pins in a hand's reach at line voltage",
        remedy="Leave the connector; switch off at the breaker, lock it, take the charger out of "
        "service",
        severity=Severity.DANGER,
        of="at the connector",
    )


def _judge_monitor(s: Situation) -> Judgement:
    source = rule_source(s, "self-protection")
    reaction = s.choice("charger.ground_monitor.reaction")
    if reaction is None:
        return not_measured("Its reaction to a lost ground is missing", sources=(source,))
    if reaction == "none_fitted":
        return unsettled(
            "Its instructions name no monitor of the ground",
            "Ask the maker how it protects people when the ground is lost",
            severity=Severity.NOTICE,
            sources=(source,),
        )
    return seen(
        reaction == "refuses",
        explanation="It refuses to charge with the ground opened at the test set"
        if reaction == "refuses"
        else "It charges with the ground opened at the test set",
        source=source,
        why="With the ground lost, the next fault puts the vehicle's body at line voltage",
        remedy="Switch it off at the breaker and lock it; replace the charger",
        severity=Severity.DANGER,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.enclosure_voltage",
        gates=True,
        title="Volts on the enclosure",
        quantity="Enclosure",
        how="Before anything is touched read from exposed metal of charger or mounting to a ground "
        "that does not come from this circuit. Prove meter and that ground first: its own "
        "receptacle shows line volts against it. Where no metal is exposed, read at the ground of "
        "the test adapter.",
        inputs=(
            Measurement(
                "touch",
                "Metal to another ground",
                plausible=(0.0, 3.0),
                instruments=(InstrumentKind.MULTIMETER,),
                category=Category.CAT_III,
                access_point="exposed metal, and a ground of another circuit or of the building",
                against=EVERY,
            ),
        ),
        judge=_judge_enclosure,
        state=CircuitState.ENERGISED,
        cautions=(
            Caution(
                Severity.DANGER,
                "Touch neither charger nor post before this reading; hold the probes by their "
                "guards.",
            ),
        ),
    ),
    Check(
        id="charger.contactor_open",
        touches=True,
        title="Contactor open, no vehicle",
        quantity="Contacts",
        how=(
            "With no vehicle, read every pair of power contacts and each to ground through the "
            "test adapter; write the highest. One pole may be welded alone."
        ),
        inputs=(
            Choice(
                "meter",
                "Meter",
                options=(Option("low", "Low impedance"), Option("high", "High impedance")),
            ),
            Measurement(
                "highest",
                "Highest reading",
                plausible=(0.0, 5.0),
                instruments=(InstrumentKind.MULTIMETER,),
                category=Category.CAT_III,
                access_point="power contacts and ground of a listed test adapter on the connector",
                against=EVERY,
            ),
        ),
        judge=_judge_contactor,
        state=CircuitState.ENERGISED,
        gates=True,
        cautions=(LIVE,),
    ),
    Check(
        id="charger.ground_monitor",
        touches=True,
        title="Reaction to a lost ground",
        how=(
            "With a listed test set between outlet and charger, or the simulator's own switch, "
            "open the ground and ask for energy. Never open a ground in the wiring."
        ),
        inputs=(
            Choice(
                "reaction",
                "What it does",
                options=(
                    Option("refuses", "Refuses, shows a fault"),
                    Option("charges", "Charges all the same"),
                    Option("none_fitted", "Has no ground monitor"),
                ),
            ),
        ),
        judge=_judge_monitor,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
        no_limit_because="it refuses or it does not",
    ),
)
