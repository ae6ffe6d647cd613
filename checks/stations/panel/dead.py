"""The panel's bus proved dead: what every hand and lead inside the panel rests on."""

from typing import Final

from checks.check import Caution, Check, CircuitState, Situation, YesNo
from checks.source import trade
from checks.stations.observing import INSIDE, Sign, signs_of
from checks.stations.proving import proved_dead, proving_inputs, proving_parts
from checks.verdict import Judgement, Severity

BUS_OFF: Final = trade("a panel is worked in with its main or feeder off, locked, tagged, proved")
BACK_AWAY: Final = "Keep the cover on and hands out"
SIGNS: Final = (
    Sign(
        YesNo("is_off", "Main or feeder off, locked", good=True, help="And tagged; key with you"),
        BUS_OFF,
        "The main or feeder of the panel is not off and locked",
        "With one breaker off the bus beside it stays live",
        f"{BACK_AWAY}; end the loads, switch main or feeder off, lock and tag it",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "are_sources_off",
            "Other sources off, locked",
            good=True,
            help="Solar, battery, generator, vehicle. Yes as well where there is none",
        ),
        BUS_OFF,
        "Another source can still feed the bus",
        "A battery, an inverter or an exporting vehicle keeps the bus live with the main off",
        f"{BACK_AWAY}; isolate and lock every source on this panel",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_line_guarded",
            "What stays live is covered",
            good=True,
            help="Line side of the main, by its barriers. Yes as well where a device elsewhere "
            "leaves nothing live in here",
        ),
        BUS_OFF,
        "The line side stays live and is not covered",
        "At service equipment the lugs ahead of the main are live until the utility cuts them off",
        f"{BACK_AWAY}; fit the panel's own barriers only with the supply cut off ahead of it, or "
        "have the utility cut it off",
        Severity.DANGER,
    ),
)


def _judge(s: Situation) -> Judgement:
    signs = signs_of(s, INSIDE, SIGNS)
    return proved_dead((*proving_parts(s, INSIDE), *signs))


CHECKS: Final = (
    Check(
        id=INSIDE,
        title="Panel bus dead",
        how="Main or feeder off, locked and tagged, other sources off. Prove the meter on a known "
        "source. With the cover off test bus to bus, to neutral and to ground, and prove the meter "
        "again. Where the panel may not be switched off, leave this out and say why: nothing "
        "inside it is then touched.",
        inputs=(
            *(sign.input for sign in SIGNS),
            *proving_inputs("bus on the load side of the main, neutral bar, ground bar"),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        cautions=(
            Caution(
                Severity.DANGER,
                "At service equipment the line side stays live with the main off. Take the cover "
                "off as if all were live, in the protection arc flash asks for; reach past no "
                "missing barrier.",
            ),
        ),
    ),
)
