"""Load management of a group at work: all charging, a load added, its signal lost."""

from functools import partial
from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Rating,
    Situation,
    YesNo,
    compare,
    known_part,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.quantity import expanded, nominal
from checks.record import InstrumentKind
from checks.stations.group import Group, Total
from checks.stations.line_share import most_loaded_line
from checks.stations.observing import rule_source
from checks.units import Dimension, Number
from checks.verdict import Judgement, Limit, Severity, Verdict, at_most

RULE: Final = "adjusted rating"
WHY: Final = "Breaker and conductors of the feeder are sized for what the system is to hold"
REMEDY: Final = (
    "End the charges at the chargers; set each charger to a current that fits without the system "
    "until it holds its limit"
)


def _held(
    amps: Number, words: str, limits: tuple[Limit, ...], working: tuple[str, ...]
) -> Judgement:
    return compare(
        amps,
        "A",
        limits,
        explanation=words,
        why=WHY,
        remedy=REMEDY,
        severity=Severity.WARNING,
        of="the group",
        working=working,
    )


def _summed(s: Situation, total: Total, words: str, limits: tuple[Limit, ...]) -> Judgement:
    """Judge the chargers' sum on the most loaded line: at worst and, where lines are open, at best.

    No charger's reading is taken for surer than the least sure of them.
    """
    share = most_loaded_line(s, [(here, nominal(amps)) for here, amps in total.loads])
    errors = [amps / nominal(amps) for _, amps in total.loads if nominal(amps)]
    of_one = max(errors, key=expanded, default=1.0)
    working = (*total.working, *share.working)
    at_worst, at_best = (
        _held(of_one * amps, f"{words} put {amps:.1f} A on the most loaded line", limits, working)
        for amps in (share.most_a, share.least_a)
    )
    if at_worst.verdict is at_best.verdict:
        return at_best if at_best.verdict is Verdict.OUTSIDE else at_worst
    return unsettled(
        f"{words} put between {share.least_a:.1f} A and {share.most_a:.1f} A on the most loaded "
        "line, as the chargers are spread",
        "Record the lines that each charger takes, at its breaker: only then can be told which "
        "line is the most loaded, for the clamp too",
        remedy=REMEDY,
        why=WHY,
        limits=limits,
        sources=tuple(limit.source for limit in limits),
        working=working,
    )


def _judge_held(group: Group, s: Situation) -> Judgement:
    check, limits = f"{group.check}_limit", group.limits(s)
    charging, members = s.rating(f"{check}.charging"), len(group.members(s))
    parts = [*_currents(group, s, limits), *_added(s, check)]
    if charging is None or charging < members:
        said = "how many were" if charging is None else f"{charging:g} were"
        parts.append(not_measured(f"All {members} must be charging at once; {said}", limits))
    return together(parts)


def _currents(group: Group, s: Situation, limits: tuple[Limit, ...]) -> list[Judgement]:
    """Judge the clamp on the feeder, and the sum of what the chargers show."""
    drawn_a, total = s.measured(f"{group.check}_limit.drawn"), group.sum_together(s)
    no_limit = "The limit as set, or the device ahead, is missing"
    is_limited = group.permitted(s) is not None and group.set_a(s) is not None
    if not limits:
        return [not_measured(no_limit)]
    parts = []
    if drawn_a is not None:
        words = f"With all charging the most loaded line carries {nominal(drawn_a):.1f} A"
        parts.append(_held(drawn_a, words, limits, limits[0].working))
    names = ", ".join(total.missing)
    missing = f"Neither clamp nor display, with all charging: {names}" if names else ""
    summed = _summed(s, total, "With all charging the chargers' currents", limits)
    summed = known_part(summed, missing)
    if drawn_a is None or summed.verdict is not Verdict.NOT_MEASURED:
        parts.append(summed)
    return [known_part(part, "" if is_limited else no_limit) for part in parts]


def _added(s: Situation, check: str) -> tuple[Judgement, ...]:
    """Judge what the system did when load was added and taken away."""
    parts = []
    for name, good, bad in (
        ("is_reduced", "It reduces when load is added", "It does not reduce when load is added"),
        ("is_restored", "It restores afterward", "It does not restore afterward"),
    ):
        answer = s.yes(f"{check}.{name}")
        if answer is None:
            parts.append(not_measured(f"Still open: {good[0].lower()}{good[1:]}"))
            continue
        is_safe = name == "is_restored"
        parts.append(
            seen(
                answer,
                explanation=good if answer else bad,
                source=rule_source(s, RULE),
                why="Vehicles stay uncharged" if is_safe else WHY,
                remedy="Have its maker look at the setting" if is_safe else REMEDY,
                severity=Severity.NOTICE if is_safe else Severity.WARNING,
            )
        )
    return tuple(parts)


LEFT: Final = "Without the signal"


def _judge_fail_safe(group: Group, s: Situation) -> Judgement:
    permitted = group.permitted(s)
    if permitted is None:
        return not_measured("The device ahead of the group is missing")
    if s.choice(f"{group.check}_fail_safe.means") == "none":
        return unsettled(
            "No test that leaves every cover closed exists here",
            "Ask its maker how the fail-safe is shown; until then it is not proved",
            why=WHY,
            limits=(permitted,),
            sources=(rule_source(s, RULE),),
        )
    room = _beside_house(group, s, permitted)
    if isinstance(room, str):  # it is the permitted current at most
        return known_part(together(_left(group, s, (permitted,))), room)
    return together(_left(group, s, (room,)))


def _beside_house(group: Group, s: Situation, permitted: Limit) -> Limit | str:
    """Return what the chargers may take with the house at its demand, or what is missing."""
    is_whole = group.is_whole(s)
    if is_whole is None:
        return f"Still open: what is held to a limit, at the room on the {group.place}"
    if not is_whole:
        return permitted
    demand_a = s.rating(f"{group.place}.load.demand_a")
    if demand_a is None:
        return f"What the house takes is missing: its demand, at the room on the {group.place}"
    room_a = max(0.0, permitted.value - demand_a)
    line = f"{permitted.value:g} A - {demand_a:g} A demand = {room_a:g} A"
    return at_most(
        room_a,
        "A",
        permitted.force,
        permitted.source,
        of="beside the house",
        working=(*permitted.working, line),
    )


def _left(group: Group, s: Situation, limits: tuple[Limit, ...]) -> list[Judgement]:
    left_a, total = s.measured(f"{group.check}_fail_safe.left"), group.sum_left(s)
    parts = []
    if left_a is None:
        parts.append(not_measured(f"{LEFT}: the current that stays is missing", limits))
    else:
        words = f"{LEFT} {nominal(left_a):.1f} A stay on the most loaded line"
        parts.append(_held(left_a, words, limits, limits[0].working))
    names = ", ".join(total.missing)
    missing = f"The current to fall back to is missing: {names}" if names else ""
    summed = _summed(s, total, f"{LEFT} the chargers' settings", limits)
    return [*parts, known_part(summed, missing)]


MEANS: Final = (
    Option("function", "Its own test function"),
    Option("plug", "Signal plug, outside covers"),
    Option("none", "None with covers closed", ends=True),
)


def _amps(name: str, label: str, place: str, **more: bool | str) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.CURRENT,
        units=("A",),
        plausible=(0.0, 800.0),
        instruments=(InstrumentKind.CLAMP,),
        access_point=place,
        optional=bool(more.get("optional")),
        against=EVERY,
        help=str(more.get("help", "")),
    )


def checks_of(group: Group, clamped: str, closed: Caution) -> tuple[Check, ...]:
    """Return what is checked of a managed group at work.

    Parameters
    ----------
    group : Group
        The group.
    clamped : str
        Where the clamp goes.
    closed : Caution
        That every cover stays on.
    """
    return (
        Check(
            id=f"{group.check}_limit",
            title="All charging, held to limit",
            quantity="All charging",
            how="Have every charger of the group charge at once. Read the most loaded line, then "
            "switch a known load on that the system sees, such as one more vehicle; watch it "
            "reduce, take the load away and watch it restore.",
            inputs=(
                Rating(
                    "charging",
                    "Charging at once",
                    dimension=Dimension.COUNT,
                    units=("pcs",),
                    plausible=(1.0, 200.0),
                ),
                _amps(
                    "drawn",
                    "Most loaded line",
                    clamped,
                    optional=True,
                    help="Without such a place the chargers' own displays are added up",
                ),
                YesNo("is_reduced", "Reduces on added load", good=True),
                YesNo("is_restored", "Restores afterward", good=True),
            ),
            judge=partial(_judge_held, group),
            state=CircuitState.UNDER_LOAD,
            loads_all=True,
            applies=group.why_not,
            cautions=(closed,),
        ),
        Check(
            id=f"{group.check}_fail_safe",
            title="Load management: signal lost",
            quantity="Signal lost",
            how="With all charging, take its signal away by its own test function, or by a signal "
            "plug outside every cover. Wait as long as its instructions say and read what stays.",
            inputs=(
                Choice("means", "Signal taken away by", options=MEANS),
                _amps("left", "What stays, most loaded line", clamped),
            ),
            judge=partial(_judge_fail_safe, group),
            state=CircuitState.UNDER_LOAD,
            loads_all=True,
            applies=group.why_not,
            cautions=(closed,),
        ),
    )
