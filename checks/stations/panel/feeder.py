"""What a feeder brings with it to a panel after the service: its equipment ground."""

from typing import Final

from checks.check import Choice, Option, Situation, When, not_measured, seen, unsettled
from checks.source import Source, trade
from checks.verdict import Judgement, Severity

FEEDER, TRANSFORMER, UNKNOWN = "feeder", "transformer", "unknown"
WITH_FEEDER: Final = trade(
    "a feeder brings its equipment grounding conductor, a wire or its rigid metal raceway, as NEC "
    "250.32(B)(1) has it"
)
WITH_TRANSFORMER: Final = trade(
    "a bonding conductor or rigid metal raceway joins a transformer's case to its first disconnect"
)
COMES: Final = {
    "wire": "A grounding wire comes with what feeds the panel",
    "raceway": "The metal raceway of what feeds the panel grounds it",
}
NO_PATH: Final = (
    "No fault finds its way back, the breaker does not open, and whatever metal it reaches stays "
    "live under a hand"
)
PULL_FIRST: Final = (
    "Keep the panel off and locked; have a grounding conductor pulled with the feeder, and remove "
    "no bond here before it is landed at both ends"
)

GROUND: Final = Choice(
    "ground",
    "Ground that comes with it",
    options=(
        Option("wire", "A wire, on the ground bar"),
        Option("raceway", "Rigid metal raceway"),
        Option("none", "None", "Lines and neutral alone, as in an old three-wire feeder"),
        Option("unseen", "Not seen"),
    ),
    when=When("fed", (FEEDER, TRANSFORMER)),
    help="A rod or water pipe at the panel is none",
)


def judge_ground(s: Situation, *, is_bonded: bool) -> Judgement:
    """Judge what grounds a fed panel: with no path back a bond that is wrong may be the only one.

    Parameters
    ----------
    s : Situation
        At the panel.
    is_bonded : bool
        Whether neutral and ground are bonded in this panel.
    """
    ground = s.choice("panel.neutral_bond.ground")
    is_behind = s.choice("panel.neutral_bond.fed") == TRANSFORMER
    source = WITH_TRANSFORMER if is_behind else WITH_FEEDER
    if ground is None:
        return not_measured("Still open: the ground that comes with what feeds it", (), (source,))
    if ground == "unseen" and not is_bonded:  # nothing is energised while no path is known
        return not_measured(
            "No ground that comes with what feeds the panel was seen: keep the panel off until it "
            "is, and follow the ground bar's conductors and the raceway back, dead and locked",
            (),
            (source,),
        )
    if ground == "unseen":
        return unsettled(
            "Whether a ground comes with what feeds the panel was not seen",
            "Dead and locked: follow the ground bar's conductors and the raceway back to where the "
            "feeder begins",
            why=NO_PATH,
            remedy="Keep the panel off until its ground is seen; remove no bond here before",
            sources=(source,),
        )
    if ground in COMES:
        return seen(True, explanation=COMES[ground], source=source)
    return _judge_none(source, is_bonded=is_bonded, is_behind=is_behind)


def _judge_none(source: Source, *, is_bonded: bool, is_behind: bool) -> Judgement:
    if not is_bonded:
        return seen(
            False,
            explanation="No ground comes with what feeds the panel, and no bond is here",
            source=source,
            why=NO_PATH,
            remedy=PULL_FIRST,
            severity=Severity.DANGER,
        )
    if is_behind:
        return seen(
            False,
            explanation="Nothing bonds the transformer's case to this disconnect",
            source=source,
            why=NO_PATH,
            remedy="Keep it off and locked; have the bonding conductor to the transformer fitted",
            severity=Severity.WARNING,
        )
    return seen(
        False,
        explanation="No ground comes with the feeder: the bond here is the only way back for a "
        "fault. An old feeder to a separate building may stand so, where no metal joins the "
        "buildings",
        source=source,
        why="Once the bond is off, or the feeder's neutral opens, every grounded metal part of "
        "the panel's circuits may turn live",
        remedy=f"{PULL_FIRST}. Whether the old feeder may stand is for the authority having "
        "jurisdiction to say",
        severity=Severity.WARNING,
    )
