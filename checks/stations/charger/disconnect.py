"""The disconnecting means of a charger: whether one is asked for, in sight, and sound."""

from typing import Final

from checks.check import Check, Situation, When, YesNo, not_measured, seen, together
from checks.codes.answer import Outcome
from checks.codes.circuit import disconnect_required
from checks.stations.circuit_facts import volts_to_ground_v
from checks.stations.observing import Sign, signs_of
from checks.stations.outlet.where import hard_wired_only
from checks.verdict import Force, Judgement, Severity

RESTRICTED: Final = ("tool", "locked", "password")


def _as_adjusted_a(s: Situation, rated_a: float) -> float:
    """Return the rating that counts: as set, where the code says so and access is restricted."""
    set_a = s.rating("charger.configuration.configured_a")
    is_rule = s.code.installation.seen["adjusted rating"].force is Force.CODE_RULE
    is_kept = s.choice("charger.configuration.access") in RESTRICTED
    is_shown = s.yes("charger.configuration.is_label_adjusted")
    return min(rated_a, set_a) if set_a and is_rule and is_kept and is_shown else rated_a


def _judge_disconnect(s: Situation) -> Judgement:
    rated_a = s.rating("charger.nameplate.rated_a")
    if rated_a is None:
        return not_measured("The rated current is missing, at the nameplate")
    ruling = disconnect_required(s.code, _as_adjusted_a(s, rated_a), volts_to_ground_v(s))
    present = s.yes("charger.disconnect.is_present")
    if present is None:
        return not_measured(
            f"Whether there is one is missing; {ruling.why}", sources=ruling.sources
        )
    if not present:
        return seen(
            ruling.outcome is Outcome.NO,
            explanation=f"No disconnecting means; {ruling.why}",
            source=ruling.source,
            why="Who works on it, or finds it burning, must be able to cut it off",
            remedy="Have one installed that is readily accessible and can be locked open",
        )
    is_asked = ruling.outcome is not Outcome.NO
    signs = signs_of(s, "charger.disconnect", _disconnect_signs(is_asked=is_asked))
    return together((*signs, *_judge_sight(s, is_asked=is_asked)))


def _judge_sight(s: Situation, *, is_asked: bool) -> tuple[Judgement, ...]:
    """Judge whether it is in sight, where the code asks for that."""
    rule = s.code.charging.is_disconnect_in_sight
    if not rule.value or not is_asked:
        return ()
    in_sight = s.yes("charger.disconnect.is_in_sight")
    if in_sight is None:
        return (not_measured("Whether it is within sight is missing", sources=(rule.source,)),)
    return (
        seen(
            in_sight,
            explanation=f"The disconnecting means is {'' if in_sight else 'not '}within sight",
            source=rule.source,
            why="Who works on the charger cannot see that it stays off",
            remedy="Have one installed within sight of the charger",
        ),
    )


def _asks_for_sight(s: Situation) -> bool:
    return s.code.charging.is_disconnect_in_sight.value


def _disconnect_signs(*, is_asked: bool) -> tuple[Sign, ...]:
    severity = Severity.WARNING if is_asked else Severity.NOTICE
    with_one = When("is_present", ("yes",))
    return (
        Sign(
            YesNo("is_lockable", "Can be locked open", good=True, when=with_one),
            "lockable disconnect",
            "The disconnecting means cannot be locked open",
            "Someone switches it on while hands are inside",
            "Fit a locking provision that stays in place without the lock",
            severity,
        ),
        Sign(
            YesNo("is_accessible", "Readily accessible", good=True, when=with_one),
            "lockable disconnect",
            "The disconnecting means is not readily accessible",
            "In a fire nobody looks for a key or a ladder",
            "Clear the way to it, or move it",
            severity,
        ),
        Sign(
            YesNo("is_marked", "Marked as this charger's", good=True, optional=True, when=with_one),
            "directory",
            "The disconnecting means does not say what it switches off",
            "The wrong one is switched off, and the charger is live",
            "Mark it durably with the charger that it switches off",
            Severity.CAUTION,
        ),
        Sign(
            YesNo("is_rated", "Rated for the circuit", good=True, optional=True, when=with_one),
            "listed use",
            "The disconnecting means is not rated for this circuit",
            "A switch beyond its rating burns when it is opened",
            "Have it replaced by one that is rated for the circuit's volts and amps",
            Severity.WARNING,
        ),
        Sign(
            YesNo("is_all_pole", "Opens every line", good=True, optional=True, when=with_one),
            "lockable disconnect",
            "The disconnecting means leaves a line connected",
            "The charger looks off and one line is live inside",
            "Treat the charger as live; have one installed that opens every line",
            Severity.DANGER,
        ),
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.disconnect",
        title="Disconnecting means",
        how="Find the switch that cuts this charger off; see whether it can be locked open.",
        inputs=(
            YesNo("is_present", "There is one"),
            *(sign.input for sign in _disconnect_signs(is_asked=True)),
            YesNo(
                "is_in_sight",
                "Within sight of the charger",
                good=True,
                when=When("is_present", ("yes",)),
                optional=True,
                where=_asks_for_sight,
            ),
        ),
        judge=_judge_disconnect,
        applies=hard_wired_only,
    ),
)
