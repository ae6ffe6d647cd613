"""Each charging point and each panel of a visit has a name of its own: it is known again by it."""

import re
from collections import Counter
from collections.abc import Collection, Iterable
from typing import Final

from checks.errors import ChecksError
from checks.record import ChargingPoint, Panel, Visit
from checks.trends import plain

_NUMBERED: Final = re.compile(r"(.*?)([0-9]{1,6})")
_REMEDY: Final = "Give each a name of its own: what is found there is known again by it"

Places = Iterable[Panel | ChargingPoint]


class NameTakenError(ChecksError):
    """Two of a visit would have one name."""


def require_own_names(before: Visit, now: Visit) -> None:
    """Refuse a change that gives a name twice; a record that came with twins is gone on with.

    Raises
    ------
    NameTakenError
        Two panels or two charging points would be called alike.
    """
    _require(before.panels, now.panels, "two panels would be called so")
    _require(before.points, now.points, "two charging points would be called so")


def _require(before: Places, now: Places, problem: str) -> None:
    had = Counter(plain(p.name) for p in before)
    has = Counter(plain(p.name) for p in now)
    for each in now:
        if has[plain(each.name)] > max(1, had[plain(each.name)]):
            raise NameTakenError(problem, where=each.name, remedy=_REMEDY)


def free_name(name: str, taken: Collection[str]) -> str:
    """Return a name where it is free, else count it on."""
    return next_name(name, taken) if plain(name) in map(plain, taken) else name


def next_name(name: str, taken: Collection[str]) -> str:
    """Count a name on to one that is free: Bay 1, Bay 2; Garage, Garage 2."""
    found = _NUMBERED.fullmatch(name)
    stem, number = (found[1], int(found[2])) if found else (f"{name} ", 1)
    used = set(map(plain, taken))
    while plain(f"{stem}{number}") in used or number == 1:
        number += 1
    return f"{stem}{number}"
