"""The margin gauge of a judgement: which limits it shows, on which scale, and the reading on it."""

from collections.abc import Callable, Sequence

from checks.check import EVERY, AnyInput, Measurement, Rating
from checks.quantity import Amount, amount, default_accuracy, gain, measured
from checks.record import Instrument
from checks.units import Number, from_si, to_si, unit
from checks.verdict import Judgement, Limit, Side, Verdict
from fieldapp.figures.gauge import GaugeLimit, Reading, gauge
from fieldapp.figures.gauge import Side as GoodSide
from fieldapp.figures.scene import Scene
from fieldapp.screens.trade_phrases import between, limit_line

Build = Callable[[float], Scene]
_ROOM = 0.75  # room beyond the limit, as a share of it


def margin_gauge(
    value: Amount | None,
    verdict: Verdict,
    limits: Sequence[Limit],
    text_scale: float,
    *,
    is_computed: bool = False,
) -> Build | None:
    """Return what draws the gauge at a width; None when there is no limit to draw.

    Parameters
    ----------
    value : Amount, optional
        What is held against the limits, once there is something.
    verdict : Verdict
        Of that value.
    limits : sequence of Limit
        As `limits_of` or `limits_asked` chose them.
    text_scale : float
        Factor on the text. [unitless]
    is_computed : bool
        The value is not the number beside it, so that each limit says what it is of.
    """
    if not limits:
        return None
    symbol = limits[0].amount.unit
    words = limit_line if is_computed else str
    marks = [GaugeLimit(from_si(limit.value, symbol), words(limit)) for limit in limits]
    reading = _reading(value, symbol, str(verdict)) if value is not None else None
    low, high = _scale([m.value for m in marks])
    side = _side(limits)
    both = between(limits, is_named=is_computed) if side == "between" else ""

    def build(width: float) -> Scene:
        return gauge(marks, reading, low, high, side, width, text_scale=text_scale, both=both)

    return build


def limits_of(judgement: Judgement) -> list[Limit]:
    """Return the tightest limits that the deciding value is held against; none when unclear."""
    if judgement.measured is None:
        return []
    fitting = [x for x in judgement.limits if _fits(x, judgement.measured.unit)]
    named = [x for x in fitting if x.amount.of == judgement.measured.of]
    return _tightest(named or fitting)


def limits_asked(judgement: Judgement, asked: AnyInput) -> list[Limit]:
    """Return the limits of the question on the screen, before it is answered; none when unclear."""
    if not isinstance(asked, Measurement | Rating):
        return []
    return _tightest(limits_on(judgement, asked))


def limits_on(judgement: Judgement, asked: Measurement | Rating) -> list[Limit]:
    """Return every limit that the number asked for is itself held against."""
    fitting = (x for x in judgement.limits if _fits(x, asked.units[0]))
    return [x for x in fitting if asked.against == EVERY or x.amount.of in asked.against]


def as_read(asked: AnyInput, text: str, symbol: str, tool: Instrument | None) -> Number:
    """Return what stands in the field in the unit used inside, with the instrument's accuracy."""
    value, dimension = to_si(float(text), symbol), unit(symbol).dimension
    stated = tool.accuracy_for(dimension, float(value)) if tool else None
    stated = stated or default_accuracy(dimension)
    if stated is None or not isinstance(asked, Measurement):
        return value
    return measured(text, symbol, stated, gain(stated))


def is_same(shown: Amount | None, value: Number) -> bool:
    """Whether an amount shows this value."""
    if shown is None:
        return False
    places = len(shown.value.partition(".")[2])
    return amount(value, shown.unit, places=places).value == shown.value


def _fits(limit: Limit, symbol: str) -> bool:
    return unit(limit.amount.unit).dimension is unit(symbol).dimension


def _tightest(limits: Sequence[Limit]) -> list[Limit]:
    """Return the tightest on each side, unless together they leave no room."""
    least = [x for x in limits if x.side is Side.AT_LEAST]
    most = [x for x in limits if x.side is Side.AT_MOST]
    found = [max(least, key=lambda x: x.value)] if least else []
    found += [min(most, key=lambda x: x.value)] if most else []
    leaves_room = not (least and most) or found[0].value < found[1].value
    return found if leaves_room else []


def _side(limits: Sequence[Limit]) -> GoodSide:
    if len(limits) > 1:
        return "between"
    return "below" if limits[0].side is Side.AT_MOST else "above"


def _scale(values: Sequence[float]) -> tuple[float, float]:
    low, high = min(values), max(values)
    if low == high:
        return (0.0, low + _ROOM * low) if low > 0 else (low - 1.0, low + 1.0)
    room = (high - low) * _ROOM / 2
    return low - room, high + room


def _reading(shown: Amount, symbol: str, verdict: str) -> Reading:
    value, spread = float(shown.value), float(shown.expanded or 0)
    low, mid, high = (
        from_si(to_si(x, shown.unit), symbol) for x in (value - spread, value, value + spread)
    )
    return Reading(mid, low, high, verdict)
