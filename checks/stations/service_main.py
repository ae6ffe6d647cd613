"""The service's main: where a panel is the service equipment it is that panel's, and read once."""

from typing import Final, NamedTuple

from checks.check import Situation, replacements

AT_SERVICE: Final = "service.rating.main_a"
AT_PANEL: Final = "panel.rating.main_a"


class Main(NamedTuple):
    """What each of two checks recorded of the one main; None where it did not [A].

    Parameters
    ----------
    service_a, panel_a : float, optional
        As recorded at the service, and at its panel. [A]
    """

    service_a: float | None
    panel_a: float | None

    @property
    def most_a(self) -> float | None:
        """The larger of what was recorded: what it may let through; None without one [A]."""
        return max((a for a in self if a is not None), default=None)

    @property
    def least_a(self) -> float | None:
        """The lesser of what was recorded: what may be loaded; None without one [A]."""
        return min((a for a in self if a is not None), default=None)

    @property
    def is_in_doubt(self) -> bool:
        """Whether the two records differ."""
        return None not in self and self.service_a != self.panel_a

    @property
    def doubt(self) -> str:
        """Say both records."""
        return (
            f"One main, and two records of it: {self.service_a:g} A at the service, "
            f"{self.panel_a:g} A at its panel"
        )


def is_main_here(s: Situation) -> bool:
    """Return whether a panel's main is the service's: it alone is the service equipment.

    Of several panels at the service each has a main of its own, and none is the service's.
    """
    at_service = [p.id for p in s.visit.panels if p.is_service_equipment]
    return at_service == [s.panel.id] and s.choice("panel.rating.ahead") != "feeder"


def main_of(s: Situation) -> Main:
    """Read what was recorded of the service's main, at the service and at its panel."""
    here = next((panel for panel in s.panels if is_main_here(panel)), None)
    return Main(s.rating(AT_SERVICE), here.rating(AT_PANEL) if here else None)


def largest_main_a(s: Situation) -> float | None:
    """Return the largest main that was recorded at the service, or in a panel at it [A].

    Of several panels there any one main may let its rating through.
    """
    here = (p for p in s.panels if p.panel.is_service_equipment)
    rated = (p.rating(AT_PANEL) for p in here if p.choice("panel.rating.ahead") != "feeder")
    return max((a for a in (s.rating(AT_SERVICE), *rated) if a is not None), default=None)


def is_asked_at_service(s: Situation) -> bool:
    """Return whether the main is read at the service: its panel has not told it."""
    return main_of(s).panel_a is None


def is_asked_at_panel(s: Situation) -> bool:
    """Return whether a panel's main is read: the service has not told it, or it is a new one."""
    is_new = any(s.panel.id in r.subjects and "bus" in r.parts for r in replacements(s.visit))
    return is_new or not is_main_here(s) or s.rating(AT_SERVICE) is None
