"""Which conductor lands where: end to end with the panel dead, or what the outlet tells of it."""

from dataclasses import replace
from typing import Final

from checks.check import (
    Check,
    Choice,
    CircuitState,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    together,
    unsettled,
)
from checks.source import trade
from checks.stations.circuit_facts import circuit_poles
from checks.stations.observing import BESIDE_BUS, INSIDE, Sign, signs_of
from checks.stations.outlet.where import is_receptacle, kind
from checks.verdict import Judgement, Severity

POLARITY: Final = trade("a conductor is what continuity says, end to end, not what its color says")


def _may_have_spare_neutral(s: Situation) -> bool:
    """Return whether a neutral beside two lines ends here, or may for all that is recorded."""
    if not is_receptacle(s) or circuit_poles(s) == 1:
        return False
    found = kind(s)
    return found is None or (found.has_neutral and len(found.volts) > 1)


def _may_have_neutral(s: Situation) -> bool:
    return circuit_poles(s) == 1 or _may_have_spare_neutral(s)


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
        where=_may_have_spare_neutral,
        help="Lands on its own terminal; only at an outlet of two lines, neutral and ground",
    ),
    POLARITY,
    "The neutral of a four-wire outlet does not land on its terminal",
    "A later load on that receptacle would see line voltage where it expects 120 V",
    "Keep the circuit dead and locked; identify the neutral and land it right",
    Severity.WARNING,
)
SIGNS: Final = (LINE, SECOND, GROUND, SPARE)
CLOSED: Final = trade("with its breaker off a line is open to ground; a neutral is bonded upstream")
CLOSED_LINES: Final = Sign(
    YesNo(
        "is_line_open",
        "Lines open to ground",
        good=True,
        help="No line contact has continuity to the ground contact",
    ),
    CLOSED,
    "A line contact has continuity to ground with the breaker off",
    "A conductor is crossed, or a line is shorted to ground",
    "Keep the circuit dead and locked; with the panel dead identify each conductor end to end",
    Severity.DANGER,
)
CLOSED_GROUND: Final = Sign(
    YesNo(
        "is_ground_reaching",
        "Ground reaches the panel",
        good=True,
        help="Continuity by long lead to bare metal of the closed enclosure",
    ),
    CLOSED,
    "The ground contact has no continuity to the panel's enclosure",
    "A crossed or open ground leaves the charger's metal alive under a hand",
    "Keep the circuit dead and locked; with the panel dead identify each conductor end to end",
    Severity.DANGER,
)
CLOSED_NEUTRAL: Final = Sign(
    YesNo(
        "is_neutral_reaching",
        "Neutral reaches ground",
        good=True,
        optional=True,
        where=_may_have_neutral,
        help="Only where a neutral ends here: through the bond upstream it has continuity",
    ),
    CLOSED,
    "The neutral contact is open to ground: it is a line, it is broken, or no bond is upstream",
    "A hand expects no voltage on a neutral; an open one puts line voltage on what it feeds",
    "Keep the circuit dead and locked; with the panel dead identify each conductor end to end",
    Severity.DANGER,
)
CLOSED_SIGNS: Final = (CLOSED_LINES, CLOSED_GROUND, CLOSED_NEUTRAL)


def _judge_polarity(s: Situation) -> Judgement:
    place = s.choice("run.polarity.place")
    if place is None:
        return not_measured("Say where it is told: from the panel, or with the panel closed")
    return _judge_closed(s) if place == "closed" else _judge_end_to_end(s)


def _judge_closed(s: Situation) -> Judgement:
    parts = list(signs_of(s, "run.polarity", CLOSED_SIGNS))
    said = s.yes("run.polarity.is_neutral_reaching")
    may_have = _may_have_neutral(s)
    if said is None and may_have and (kind(s) is not None or circuit_poles(s) == 1):
        parts.append(not_measured("Still open: the neutral"))
    elif said is None and may_have:
        parts.append(
            not_measured("Record the receptacle's configuration, or say whether a neutral reaches")
        )
    elif said:
        parts.append(
            unsettled(
                "Lines and ground are told, but neutral and ground are one upstream: which is "
                "which is not told with the panel closed",
                "Identify both end to end once the panel may be switched off",
                why="The charger's current would run in the grounding conductor",
                remedy="Read the volts of every pair first when the circuit is live",
                severity=Severity.NOTICE,
                sources=(CLOSED,),
            )
        )
    return together(parts, good="Lines open, ground through to the panel; two lines may swap")


def _judge_end_to_end(s: Situation) -> Judgement:
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


def _only(place: str, signs: tuple[Sign, ...]) -> tuple[YesNo, ...]:
    """Return the questions of signs that are asked where it is told from one place."""
    return tuple(replace(sign.input, when=When("place", (place,))) for sign in signs)


CHECKS: Final = (
    Check(
        id="run.polarity",
        title="Polarity, end to end",
        how="Dead, locked and proved. Identify each conductor by continuity from the panel to its "
        "terminal at the outlet; do not trust its color. Where the panel stays closed, disconnect "
        "all that is plugged in, tell at the outlet what can be told, and read the volts of every "
        "pair first when it is live.",
        inputs=(
            Choice(
                "place",
                "Told from",
                options=(
                    Option("panel", "The panel, its bus dead", needs=(INSIDE,)),
                    Option("closed", "The outlet, panel closed"),
                ),
            ),
            *_only("panel", SIGNS),
            *_only("closed", CLOSED_SIGNS),
        ),
        judge=_judge_polarity,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        cautions=(BESIDE_BUS,),
    ),
)
