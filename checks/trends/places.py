"""Which panel and which charging point of an earlier visit is which of the latest one."""

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from itertools import groupby
from typing import Final, NamedTuple

from checks.record import ChargingPoint, Panel, Visit
from checks.trends.identity import plain, serial

_BY_NUMBER: Final = 3  # less sure than by any name

_Place = Panel | ChargingPoint
_Pair = tuple[str, str]  # a place of an earlier visit, and one of the latest


class _Likeness(NamedTuple):
    """How surely two places are one; the least is the surest."""

    how: int
    is_elsewhere: bool = False  # fed by another panel
    is_other_id: bool = False


class _Called(NamedTuple):
    """What a panel or a charging point was called: at first, at last, and ever."""

    first: str
    last: str
    ever: frozenset[str]


_Names = Mapping[str, _Called]  # by the places' ids


def when(visit: Visit) -> tuple[datetime, str]:
    """Return by what visits are ordered in time."""
    return datetime.fromisoformat(visit.started), visit.id


def places(latest: Visit, earlier: Iterable[Visit]) -> Mapping[str, Mapping[str, str]]:
    """Return, by the id of each earlier visit, which place of the latest one each of its own is.

    A place is known by its name, and a corrected one by what it was called before: the visits are
    gone through backward, so that whatever is known of a place by then tells it from the others.

    Parameters
    ----------
    latest : Visit
        The visit that is looked from.
    earlier : iterable of Visit
        Visits before it, in any order.
    """
    panels, points = _called(latest, latest.panels), _called(latest, latest.points)
    numbers = _numbers(latest)
    found: dict[str, Mapping[str, str]] = {}
    for visit in sorted(earlier, key=when, reverse=True):
        then, there = _called(visit, visit.panels), _called(visit, visit.points)
        of_panels = _panels(then, panels)
        likeness = _by_numbers(_numbers(visit), numbers) | _by_names(there, points)
        for of, at in likeness:
            is_elsewhere = of_panels.get(visit.point(of).panel) != latest.point(at).panel
            likeness[of, at] = likeness[of, at]._replace(is_elsewhere=is_elsewhere)
        of_points = _paired(likeness)
        _learn(then, of_panels, panels)
        _learn(there, of_points, points)
        found[visit.id] = {**of_panels, **of_points}
    return found


def _called(visit: Visit, places: Sequence[_Place]) -> dict[str, _Called]:
    """Return what each place of a visit is and was called."""
    names: dict[str, list[str]] = {}
    before: list[_Place] = []
    for made in sorted(visit.corrections, key=lambda c: c.number):
        before += (*made.panels, *made.points)
    for each in (*before, *places):
        names.setdefault(each.id, []).append(plain(each.name))
    return {p.id: _Called(names[p.id][0], names[p.id][-1], frozenset(names[p.id])) for p in places}


def _learn(there: _Names, known: Mapping[str, str], here: dict[str, _Called]) -> None:
    """Add what the places of an earlier visit were called there."""
    for of, at in known.items():
        then, now = there[of], here[at]
        here[at] = _Called(then.first, now.last, then.ever | now.ever)


def _panels(there: _Names, here: _Names) -> dict[str, str]:
    """Know panels again by their names; where each visit has one, it is that one."""
    if len(there) == len(here) == 1:
        return dict(zip(there, here, strict=True))
    return _paired(_by_names(there, here))


def _by_names(there: _Names, here: _Names) -> dict[_Pair, _Likeness]:
    alike = {(of, at): _by_name(there[of], here[at]) for of in there for at in here}
    return {
        pair: _Likeness(how, is_other_id=pair[0] != pair[1])
        for pair, how in alike.items()
        if how is not None
    }


def _by_name(then: _Called, now: _Called) -> int | None:
    """Return how surely two are one: as it was left and taken over, renamed since, or ever."""
    if then.last == now.first:
        return 0
    if then.last in now.ever:
        return 1
    return 2 if then.ever & now.ever else None


def _by_numbers(there: Mapping[str, str], here: Mapping[str, str]) -> dict[_Pair, _Likeness]:
    """Know charging points again by their chargers, less surely than by any name."""
    return {
        (of, at): _Likeness(_BY_NUMBER, is_other_id=of != at)
        for of in there
        for at in here
        if there[of] and there[of] == here[at]
    }


def _numbers(visit: Visit) -> dict[str, str]:
    return {p.id: serial(visit, p) for p in visit.points}


def _paired(likeness: Mapping[_Pair, _Likeness]) -> dict[str, str]:
    """Pair the surest first; where two are equally sure, neither is known."""
    found: dict[str, str] = {}
    taken: set[str] = set()
    in_turn = sorted(likeness, key=lambda pair: (likeness[pair], pair))
    for _, group in groupby(in_turn, key=lambda pair: likeness[pair]):
        free = [(there, at) for there, at in group if there not in found and at not in taken]
        of, to = Counter(there for there, _ in free), Counter(at for _, at in free)
        found |= {there: at if of[there] == to[at] == 1 else "" for there, at in free}
        taken |= set(to)
    return {there: at for there, at in found.items() if at}
