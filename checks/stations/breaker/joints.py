"""The breaker's two joints and the breaker itself: its lug, its stab on the bus, its case.

Looked at on a service call, with the panel dead: what no face with the cover on shows.
"""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Situation,
    When,
    YesNo,
    not_measured,
    together,
    unsettled,
)
from checks.record import VisitKind
from checks.stations.observing import BESIDE_BUS, INSIDE, Sign, rule_source, signs_of
from checks.verdict import Judgement, Severity

CHECK: Final = "breaker.joints"
IN_PLACE: Final = (
    Sign(
        YesNo("is_lug_burnt", "Wire or lug discolored", good=False, says=("Discolored", "Clean")),
        "integrity",
        "Wire or lug of the breaker is discolored by heat",
        "A joint that was that hot has lost its spring and its plating, and heats sooner again",
        "Keep the panel dead; replace the breaker by one listed for the panel, cut the wire back "
        "to sound metal and tighten it to the label",
        Severity.DANGER,
    ),
    Sign(
        YesNo("is_rocking", "Rocks in its place", good=False, says=("Rocks", "Sits firm")),
        "integrity",
        "The breaker rocks in its place",
        "What does not grip its stab arcs and burns there under load",
        "Keep the panel dead; look at its stab, and fit a breaker listed for the panel on a sound "
        "one only",
        Severity.DANGER,
    ),
)
OFF: Final = When("is_off_bus", ("yes",))
OFF_BUS: Final = (
    Sign(
        YesNo(
            "is_stab_burnt",
            "Stab or clip burnt, pitted",
            good=False,
            says=("Burnt or pitted", "Clean"),
            when=OFF,
        ),
        "integrity",
        "The breaker's clip or its stab on the bus is burnt",
        "A burnt stab holds no breaker: a new one on it burns as well",
        "Keep the panel dead; replace breaker and burnt bus together, by the panel maker's part; "
        "nothing is filed clean, and no breaker goes on a burnt stab again",
        Severity.DANGER,
    ),
    Sign(
        YesNo(
            "is_worn",
            "Case cracked, no firm latch",
            good=False,
            says=("Cracked or slack", "Sound"),
            when=OFF,
        ),
        "integrity",
        "The breaker's case is cracked or swollen, or its handle does not latch",
        "It may trip early, or not open a fault",
        "Keep it out, and replace it by one listed for the panel",
        Severity.DANGER,
    ),
)


def _judge(s: Situation) -> Judgement:
    parts = signs_of(s, CHECK, IN_PLACE)
    is_off = s.yes(f"{CHECK}.is_off_bus")
    if is_off is None:
        parts = (*parts, not_measured("Still open: whether it was taken off its bus"))
    elif is_off:
        parts = (*parts, *signs_of(s, CHECK, OFF_BUS))
    else:
        hidden = unsettled(
            "The breaker stayed on its bus: its stab was not seen",
            "Take it off with the panel dead, where its maker's instructions allow; or take its "
            "warmth under load, once nothing is found burnt",
            severity=Severity.NOTICE,
            sources=(rule_source(s, "integrity"),),
        )
        parts = (*parts, hidden)
    return together(parts, good="Lug, stab, clip and case are clean and whole, and it sits firm")


CHECKS: Final = (
    Check(
        id=CHECK,
        title="Breaker's lug, stab and bus",
        how="Only with the panel's bus proved dead from a source upstream. Look at wire and lug, "
        "and see whether the breaker rocks. Where its maker's instructions allow, take it off the "
        "bus and look at stab, clip and case. Where the panel may not be off, leave this out and "
        "say why.",
        inputs=(
            *(sign.input for sign in IN_PLACE),
            YesNo(
                "is_off_bus",
                "Taken off its bus",
                help="No where it is bolted, welded on, or may not come off here",
            ),
            *(sign.input for sign in OFF_BUS),
        ),
        judge=_judge,
        state=CircuitState.DEAD,
        opens=True,
        needs=(INSIDE,),
        kinds=(VisitKind.SERVICE_CALL,),
        cautions=(
            BESIDE_BUS,
            Caution(
                Severity.WARNING,
                "A breaker that does not come off by hand may be welded on: leave it. A burnt stab "
                "is neither filed nor used again.",
            ),
        ),
        no_limit_because="what is seen has no number; the rule is the code's own words",
    ),
)
