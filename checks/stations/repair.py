"""The repair of a service call: what was done about the fault, in the technician's words."""

from typing import Final

from checks.check import REPAIR, Check, Choice, Option, Situation, When, Words, not_measured, seen
from checks.record import VisitKind
from checks.source import trade
from checks.stations.observing import CIRCUIT_DEAD, PANEL_DEAD
from checks.stations.outlet.where import is_wired
from checks.verdict import Judgement, Severity

CHECK: Final = REPAIR
DONE: Final = trade("who comes next needs to know what was done, and what was not")
MENDED: Final = ("mended", "explained")
SAID: Final = {
    "mended": "Mended",
    "explained": "Nothing to mend",
    "made_safe": "Made safe, not mended",
    "others": "Not mended, left to others",
}


def _judge(s: Situation) -> Judgement:
    outcome = s.choice(f"{CHECK}.outcome")
    done = s.words(f"{CHECK}.done")
    if outcome is None or not done:
        return not_measured("What was done is missing", sources=(DONE,))
    parts = s.words(f"{CHECK}.parts")
    return seen(
        outcome in MENDED,
        explanation=f"{SAID[outcome]}: {done}" + (f"; parts: {parts}" if parts else ""),
        source=DONE,
        why="The fault is still there",
        remedy="Keep it out of service, locked and tagged, until it is mended and the readings "
        "that showed the fault are repeated",
        severity=Severity.WARNING,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id=CHECK,
        title="Repair",
        how="Say what was done about the fault. Then repeat the readings that showed it: they, not "
        "these words, say whether it is mended.",
        inputs=(
            Choice(
                "outcome",
                "What became of the fault",
                options=(
                    Option("mended", "Mended here"),
                    Option("explained", "Nothing to mend"),
                    Option("made_safe", "Made safe, not mended"),
                    Option("others", "Left to others"),
                ),
            ),
            Choice(
                "replaced",
                "Part that was replaced",
                options=(
                    Option("none", "None of these"),
                    Option("breaker", "Breaker", needs=PANEL_DEAD),
                    Option("bus", "Breaker and panel bus", needs=PANEL_DEAD),
                    Option("receptacle", "Receptacle", needs=CIRCUIT_DEAD),
                    Option("both", "Breaker and receptacle", needs=PANEL_DEAD),
                    Option(
                        "charger",
                        "Charger or its cable",
                        needs=CIRCUIT_DEAD,
                        needs_where=is_wired,
                    ),
                ),
                when=When("outcome", ("mended",)),
                help="What was checked of it before has to be checked again.",
            ),
            Words("done", "What was done"),
            Words("parts", "Parts replaced", optional=True),
        ),
        judge=_judge,
        closes=True,
        kinds=(VisitKind.SERVICE_CALL,),
        no_limit_because="done or not done, with no number to hold it against",
    ),
)
