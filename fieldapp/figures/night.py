"""The night's sharing plan: the current of each charger over the hours, and of all at the limit."""

from collections.abc import Sequence
from typing import Final

from checks.assess.night import NightPlan, Stretch
from fieldapp.figures.legend import SAMPLE, Key, legend
from fieldapp.figures.scene import (
    LEADING,
    TEXT,
    Item,
    Line,
    Rect,
    Scene,
    Text,
    Weight,
    dashed,
    text_width,
    wrapped,
)
from fieldapp.figures.ticks import nice_ticks

_GAP: Final = 8.0
_HIGH: Final = 44.0  # of a strip at the highest current in it
_TICK: Final = 5.0
_STEP: Final = 2.4  # line of a current; of no current it is thin


def night_scene(plan: NightPlan, width: float = 328.0, *, text_scale: float = 1.0) -> Scene:
    """Draw a strip for each charger, one for all together with their limit, over the same hours.

    Chargers that get the same share a strip. The currents of the chargers have one scale; a step
    carries its amps where it is wide enough, and the words over a strip say the most of it.

    Parameters
    ----------
    plan : NightPlan
        What is drawn.
    width : float
        Width to fill. [unit]
    text_scale : float
        Factor on all text. [unitless]

    Returns
    -------
    Scene
        As wide as asked and as high as its text needs.
    """
    return _Night(plan, width, TEXT * text_scale).scene()


def _amps(current_a: float) -> str:
    return f"{current_a:.3g} A"


class _Night:
    def __init__(self, plan: NightPlan, width: float, size: float) -> None:
        self.plan, self.width, self.size = plan, width, size
        self.row, self.y = size * LEADING, 0.0
        self.left, self.right = _GAP, width - _GAP
        self.ground: list[Item] = []
        self.items: list[Item] = []
        self.hours = [h for h in nice_ticks(0.0, plan.night_h, 5) if h <= plan.night_h]

    def scene(self) -> Scene:
        plan = self.plan
        most_a = max(s.current_a for share in plan.shares for s in share.stretches)
        for share in plan.shares:
            most = _amps(max(s.current_a for s in share.stretches))
            each = f"up to {most}{' each' if len(share.names) > 1 else ''}: {share.says}"
            self._words(", ".join(share.names), each)
            self._strip(share.stretches, most_a)
        together = _amps(max(s.current_a for s in plan.together))
        self._words("All together", f"up to {together}")
        self._strip(plan.together, plan.limit_a, is_limited=True)
        self._axis()
        return Scene(self.width, self.y, (*self.ground, *self.items))

    def _x(self, hour: float) -> float:
        return self.left + hour / self.plan.night_h * (self.right - self.left)

    def _words(self, name: str, says: str) -> None:
        self._lines(name, "ink", "semibold")
        self._lines(says, "ink_soft", "regular")

    def _lines(self, text: str, color: str, weight: Weight) -> None:
        for line in wrapped(text, self.size, self.width):
            at = (0.0, self.y + self.row / 2)
            self.items.append(Text(at, line, self.size, color, weight=weight))
            self.y += self.row

    def _strip(
        self, stretches: Sequence[Stretch], most_a: float, *, is_limited: bool = False
    ) -> None:
        """Set the steps on their base line, with room for the amps over the highest."""
        top = self.y + self.row
        base = top + _HIGH
        for hour in self.hours:
            x = self._x(hour)
            self.ground.append(Line((x, base), (x, base + _TICK), 1.4, "edge"))
        last: float | None = None
        for each in stretches:
            x, end = self._x(each.from_h), self._x(each.to_h)
            y = base - _HIGH * each.current_a / most_a
            if each.current_a > 0:
                self.ground.append(Rect(x, y, end - x, base - y, fill="accent_tint"))
                self._label(_amps(each.current_a), (x + end) / 2, end - x, y)
            if last is not None and last != y:
                self.items.append(Line((x, last), (x, y), _STEP, "accent"))
            if each.current_a > 0:
                self.items.append(Line((x, y), (end, y), _STEP, "accent"))
            last = y
        self.items.append(Line((self.left, base), (self.right, base), 1.4, "edge"))
        if is_limited:  # over the steps, which may lie on it
            self.items += dashed((self.left, top), (self.right, top), 2.6, "outside")
        self.y = base + _GAP

    def _label(self, words: str, middle: float, room: float, y: float) -> None:
        """Say the amps over a step that is wide enough for them."""
        if text_width(words, self.size) + _GAP / 2 <= room:
            at = (middle, y - self.row / 2)
            self.items.append(Text(at, words, self.size, "ink", "middle"))

    def _axis(self) -> None:
        y, taken = self.y + self.row / 2 - _GAP / 2, -_GAP
        for hour in self.hours:
            words = f"{hour:g} h" if hour == 0 else f"{hour:g}"
            half = text_width(words, self.size) / 2
            x = min(max(self._x(hour), half), self.width - half)
            if x - half >= taken:
                self.items.append(Text((x, y), words, self.size, "ink_soft", "middle"))
                taken = x + half + _GAP
        self.y += self.row
        sample = dashed((0.0, 0.0), (SAMPLE, 0.0), 2.6, "outside", 4.0)
        words = f"limit as set: {_amps(self.plan.limit_a)} for all together"
        items, self.y = legend([Key(words, sample)], self.y, self.width, self.size)
        self.items += items
