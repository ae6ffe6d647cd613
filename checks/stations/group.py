"""A managed group: chargers that share a limit, held to it by load management.

A group needs no record of its own. Where the room is reckoned, at the service or at one panel, it
is recorded that a system holds the chargers there: the group is the charging points which that
service or panel feeds, less those that are said not to be held.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from checks.check import Situation
from checks.codes.circuit import largest_charger_a
from checks.quantity import nominal
from checks.stations.circuit_facts import has_line_3
from checks.stations.observing import rule_source
from checks.units import Number
from checks.verdict import Force, Limit, at_most

PERMITTED: Final = "by the overcurrent device"


@dataclass(frozen=True)
class Total:
    """The currents of the chargers of a group, and whose is missing.

    Parameters
    ----------
    loads : tuple of (Situation, Number)
        Those that are known, each charging point with its own. [A]
    working : tuple of str
        One line a charger.
    missing : tuple of str
        The names of the points that have none.
    """

    loads: tuple[tuple[Situation, Number], ...]
    working: tuple[str, ...]
    missing: tuple[str, ...]


@dataclass(frozen=True)
class Group:
    """What is known of one managed group.

    Parameters
    ----------
    place : str
        ``"service"`` or ``"panel"``: where its checks and its room are recorded.
    """

    place: str

    @property
    def check(self) -> str:
        """The check that records the system and its setting."""
        return f"{self.place}.management"

    def why_not(self, s: Situation) -> str:
        """Return why there is nothing to ask; empty where load management is recorded."""
        if s.yes(f"{self.place}.load.is_managed"):
            return ""
        return f"no load management is recorded, at the room on the {self.place}"

    def is_whole(self, s: Situation) -> bool | None:
        """Return whether house and chargers are held together, or the chargers alone, if known."""
        manages = s.choice(f"{self.place}.load.manages")
        return None if manages is None else manages == "service"

    def set_a(self, s: Situation) -> float | None:
        """Return the current that the system is set to hold [A]."""
        return s.rating(f"{self.check}.set_a")

    def permitted(self, s: Situation) -> Limit | None:
        """Return the most that its overcurrent device carries for hours, or nothing yet."""
        device_a = s.rating(f"{self.check}.device_a")
        if not device_a:
            return None
        if not self.is_whole(s):
            return largest_charger_a(s.code, device_a).at_most("A", of=PERMITTED)
        rule = s.code.load.managed_ratio
        most_a = device_a / rule.value
        line = f"{device_a:g} A / {rule.value:g} = {most_a:g} A ({rule.source})"
        return at_most(most_a, "A", rule.force, rule.source, of=PERMITTED, working=(line,))

    def limits(self, s: Situation) -> tuple[Limit, ...]:
        """Return what its current is held against: the permitted, and the setting."""
        permitted, set_a = self.permitted(s), self.set_a(s)
        limits = [] if permitted is None else [permitted]
        if set_a is not None:
            source = rule_source(s, "adjusted rating")
            limits.append(at_most(set_a, "A", Force.LISTING, source, of="as set"))
        return tuple(limits)

    def members(self, s: Situation) -> tuple[Situation, ...]:
        """Return the charging points that it holds: all that are not said to be left out."""
        return tuple(p for p in s.points if p.yes("charger.together.is_held") is not False)

    def sum_together(self, s: Situation) -> Total:
        """Return the sum of what its chargers gave with all of them charging."""
        return _total((p, p.measured("charger.together.with_all")) for p in self.members(s))

    def sum_left(self, s: Situation) -> Total:
        """Return the sum of what its chargers are set to fall back to."""
        return _total((p, p.rating("charger.together.fallback")) for p in self.members(s))

    def is_upper_bound(self, s: Situation) -> bool:
        """Return whether the chargers may be on different lines, so that their sum is too much."""
        return has_line_3(s) or any(p.point.level == 1 for p in self.members(s))


def _total(found: Iterable[tuple[Situation, Number | None]]) -> Total:
    each = tuple(found)
    known = tuple((here, amps) for here, amps in each if amps is not None)
    return Total(
        known,
        tuple(f"{here.point.name}: {nominal(amps):g} A" for here, amps in known),
        tuple(here.point.name for here, amps in each if amps is None),
    )


SERVICE: Final = Group("service")
PANEL: Final = Group("panel")


def why_alone(s: Situation) -> str:
    """Return why a charging point has no others to charge with; empty where it has."""
    if len(s.visit.points) > 1 or any(not group.why_not(s) for group in (SERVICE, PANEL)):
        return ""
    return "one charging point, and no load management is recorded"
