"""How the charger works: stop, loss of supply, own ground-fault test."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.quantity import nominal
from checks.source import judgement, trade
from checks.stations.charger.signals import LIVE, SIMULATOR
from checks.stations.observing import Sign, rule_source, signs_of
from checks.units import Dimension
from checks.verdict import Force, Judgement, Severity, at_most

OFF: Final = "Switch it off at the breaker, lock it, and take the charger out of service"
STOP_S: Final = 1.0
STOP: Final = judgement(
    "a contactor that opens within 1 s by a watch; the 0.1 s of IEC 61851-1 no watch shows"
)


def _judge_stop(s: Situation) -> Judgement:
    limit = at_most(STOP_S, "s", Force.TRADE_JUDGEMENT, STOP, of="until dead")
    stop_s = s.measured("charger.stop_time.stop")
    if stop_s is None:
        return not_measured("The time until the connector is dead is missing", (limit,))
    return compare(
        stop_s,
        "s",
        (limit,),
        explanation=f"{nominal(stop_s):.1f} s after the request ends the connector is dead",
        why="A contact that still carries current when it parts draws an arc",
        remedy=OFF,
        severity=Severity.WARNING,
        of="until dead",
    )


SELF_TEST: Final = {
    "recovers": "Trips, and recovers as its instructions say",
    "stays": "Trips, and stays off against its instructions",
    "none": "Does not trip",
}


def _judge_self_test(s: Situation) -> Judgement:
    source = rule_source(s, "self-protection")
    reaction = s.choice("charger.ground_fault_test.reaction")
    if reaction is None:
        return not_measured("Its reaction to the ground-fault test is missing", sources=(source,))
    return seen(
        reaction == "recovers",
        explanation=SELF_TEST[reaction],
        source=source,
        why="It is what cuts off a current through a person at the vehicle",
        remedy=OFF,
        severity=Severity.DANGER if reaction == "none" else Severity.CAUTION,
    )


CONTROL: Final = trade("a control must do what its marking says")
IS_DARK: Final = YesNo("is_dark", "Goes dark when switched off", good=True)


def _dark(s: Situation) -> Sign:
    """Return the sign of what switches it off: its disconnecting means, else its breaker."""
    present = s.yes("charger.disconnect.is_present")
    device = "disconnecting means" if present else "breaker"
    return Sign(
        IS_DARK,
        CONTROL,
        f"It stays on with its {device} off",
        "Who works on it believes it dead",
        "Treat it as live: find what feeds it, and mark the right device, before anyone works here",
        Severity.DANGER,
    )


CONTROL_SIGNS: Final = (
    Sign(
        YesNo("is_message_clear", "Lamps as instructed", good=True),
        CONTROL,
        "Lamps or messages do not say what the instructions say",
        "A fault that nobody can read is ignored or reset",
        "Leave the table of lamps and messages with the owner, or have the maker look at it",
        Severity.NOTICE,
    ),
    Sign(
        YesNo("is_stop_working", "Emergency stop works", good=True, optional=True),
        CONTROL,
        "The emergency stop does not end what it should",
        "In a fire or a shock it is what people reach for",
        OFF,
        Severity.WARNING,
    ),
)
STARTS: Final = {
    "waits": "After the supply returns it waits for a request",
    "delayed": "After the supply returns it goes on after a delay",
    "at_once": "After the supply returns it goes on at once",
    "empty": "After the supply returns it makes the empty connector live",
}


def _return(s: Situation) -> Judgement:
    """Judge its start after a loss of supply: alone, or with others that start too."""
    start = s.choice("charger.supply_return.start")
    if start is None:
        return not_measured("How it starts when the supply returns is missing")
    others = len(s.visit.points) - 1
    is_crowd = start == "at_once" and others > 0
    beside = f", beside {others} other{'s' if others > 1 else ''}" if is_crowd else ""
    return seen(
        start != "empty" and not is_crowd,
        explanation=f"{STARTS[start]}{beside}",
        source=CONTROL,
        why="An empty connector must stay dead"
        if start == "empty"
        else "All that start at the same moment trip what feeds them",
        remedy=OFF if start == "empty" else "Have a delay set that differs from the others'",
        severity=Severity.DANGER if start == "empty" else Severity.NOTICE,
    )


def _judge_return(s: Situation) -> Judgement:
    signs = signs_of(s, "charger.supply_return", (_dark(s), *CONTROL_SIGNS))
    return together((*signs, _return(s)))


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.stop_time",
        touches=True,
        title="Dead when the request ends",
        quantity="Until dead",
        how="With the simulator asking for energy and no load, end the request and time until its "
        "volts are gone.",
        inputs=(
            Measurement(
                "stop",
                "Until dead",
                dimension=Dimension.TIME,
                units=("s",),
                plausible=(0.0, 10.0),
                access_point=SIMULATOR,
                against=EVERY,
            ),
        ),
        judge=_judge_stop,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
    ),
    Check(
        id="charger.ground_fault_test",
        touches=True,
        title="Its own ground-fault test",
        how="Start the test by its button or menu, or by the simulator's ground-fault key, and "
        "follow the instructions on how it recovers.",
        inputs=(
            Choice(
                "reaction",
                "What it does",
                options=(
                    Option("recovers", "Trips and recovers"),
                    Option("stays", "Trips and stays off"),
                    Option("none", "Does not trip"),
                ),
            ),
        ),
        judge=_judge_self_test,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
        no_limit_because="it trips and recovers or it does not",
    ),
    Check(
        id="charger.supply_return",
        touches=True,
        title="Controls and supply return",
        how="With no vehicle and nobody at work on it, switch it off by its disconnecting means, "
        "else its breaker; wait as it says, switch on, and watch lamps and start on the simulator.",
        inputs=(
            IS_DARK,
            *(sign.input for sign in CONTROL_SIGNS),
            Choice(
                "start",
                "When supply returns",
                options=(
                    Option("waits", "Waits for a request"),
                    Option("delayed", "Goes on after a delay"),
                    Option("at_once", "Goes on at once"),
                    Option("empty", "Connector live, empty"),
                ),
            ),
        ),
        judge=_judge_return,
        state=CircuitState.ENERGISED,
        cautions=(LIVE,),
    ),
)
