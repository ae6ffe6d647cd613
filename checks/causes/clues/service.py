"""Clues from the service: whether its neutral still holds the legs together."""

from typing import Final

from checks.causes.clue import Clue, View, outcomes
from checks.stations.service_neutral import difference_limit, difference_v, moved
from checks.verdict import Verdict, decide

NEUTRAL: Final = "service neutral"


def _supply_legs(view: View) -> str | None:
    """Tell whether the legs agree at the service; nothing where the meter cannot say."""
    s = view.situation
    difference = difference_v(s)
    if difference is None:
        return None
    verdict = decide(difference, (difference_limit(s),))
    return {Verdict.WITHIN: "alike", Verdict.OUTSIDE: "apart"}.get(verdict)


def _moving_legs(view: View) -> str | None:
    """Tell whether the legs move together as load comes on, or apart."""
    found = moved(view.situation)
    return None if found is None else ("apart" if found.is_apart else "together")


CLUES: Final[tuple[Clue, ...]] = (
    Clue(
        "supply_legs",
        "service.supply_voltage",
        outcomes(
            ("alike", 0.985, "The legs agree at the service"),
            ("apart", 0.015, "The legs to neutral differ at the service"),
        ),
        "alike",
        _supply_legs,
        NEUTRAL,
    ),
    Clue(
        "moving_legs",
        "outlet.loaded_voltage",
        outcomes(
            ("together", 0.99, "Both legs fall under load"),
            ("apart", 0.01, "Under load one leg rises and the other falls"),
        ),
        "together",
        _moving_legs,
        NEUTRAL,
    ),
)
