"""The margin gauge of a judgement: which limits it shows, on which scale, and the reading on it."""

from collections.abc import Callable

from checks.check import AnyInput, Measurement, Rating
from checks.quantity import Dimension, from_si, to_si, unit
from checks.verdict import Judgement, Limit, Side
from fieldapp.figures import GaugeLimit, Reading, Scene, gauge
from fieldapp.figures import Side as GoodSide

Build = Callable[[float], Scene]
_ROOM = 0.75  # room beyond the limit, as a share of it


def margin_gauge(
    judgement: Judgement, asked: AnyInput | None = None, *, is_typed: bool, text_scale: float
) -> Build | None:
    """Return what draws the gauge at a width; None when no limit fits what is shown.

    Parameters
    ----------
    judgement : Judgement
        With its limits, and the deciding value once there is one.
    asked : AnyInput, optional
        The question on the screen; its limits are shown before anything is typed.
    is_typed : bool
        Whether the judgement's value comes from what stands on the screen.
    text_scale : float
        Factor on the text. [unitless]
    """
    measured = judgement.measured if is_typed else None
    if measured is not None:
        dimension = unit(measured.unit).dimension
    elif isinstance(asked, Measurement | Rating):
        dimension = asked.dimension
    else:
        return None
    limits = deciding(judgement, dimension)
    if not limits:
        return None
    symbol = limits[0].amount.unit
    marks = [GaugeLimit(from_si(limit.value, symbol), str(limit)) for limit in limits]
    reading = _reading(judgement, symbol) if measured is not None else None
    low, high = _scale([m.value for m in marks])
    side = _side(limits)

    def build(width: float) -> Scene:
        return gauge(marks, reading, low, high, side, width, text_scale=text_scale)

    return build


def deciding(judgement: Judgement, dimension: Dimension) -> list[Limit]:
    """Return the tightest limit on each side for one dimension."""
    fitting = [x for x in judgement.limits if unit(x.amount.unit).dimension is dimension]
    found = []
    for side, tightest in ((Side.AT_LEAST, max), (Side.AT_MOST, min)):
        there = [limit for limit in fitting if limit.side is side]
        if there:
            found.append(tightest(there, key=lambda limit: limit.value))
    return found


def _side(limits: list[Limit]) -> GoodSide:
    if len(limits) > 1:
        return "between"
    return "below" if limits[0].side is Side.AT_MOST else "above"


def _scale(values: list[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    if low == high:
        return (0.0, low + _ROOM * low) if low > 0 else (low - 1.0, low + 1.0)
    room = (high - low) * _ROOM / 2
    return low - room, high + room


def _reading(judgement: Judgement, symbol: str) -> Reading | None:
    shown = judgement.measured
    if shown is None:
        return None
    value, spread = float(shown.value), float(shown.expanded or 0)
    low, mid, high = (
        from_si(to_si(x, shown.unit), symbol) for x in (value - spread, value, value + spread)
    )
    return Reading(mid, low, high, str(judgement.verdict))
