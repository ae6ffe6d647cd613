"""The decision rule: a value against its limits, and how far it is from the nearest one."""

from collections.abc import Sequence
from decimal import Decimal

from checks.quantity import Amount, amount, expanded, nominal
from checks.units import Number
from checks.verdict.limit import Limit, Side
from checks.verdict.words import Verdict, worst


def decide(value: Number, limits: Sequence[Limit]) -> Verdict:
    """Decide a value against its limits with a guard band of its expanded uncertainty.

    ``within`` or ``outside`` only when the whole interval (k = 2) lies on one side; an exact value
    equal to the limit is within. A limit whose source cannot prove anything (from memory,
    doubtful) never yields ``within``.

    References
    ----------
    JCGM 106:2012, decision with guard band w = U; ILAC-G8:09/2019 for the same rule.

    Examples
    --------
    >>> from checks.source import trade
    >>> from checks.verdict.limit import Force, at_most
    >>> limit = at_most(30.0, "A", Force.CODE_RULE, trade("an example"))
    >>> decide(30.0, [limit])
    <Verdict.WITHIN: 'within'>
    """
    return worst(_decide_one(value, limit) for limit in limits)


def _decide_one(value: Number, limit: Limit) -> Verdict:
    if -_room(value, limit) - expanded(value) > _slack(limit):
        return Verdict.OUTSIDE
    is_good = is_met(value, limit) and limit.source.can_prove
    return Verdict.WITHIN if is_good else Verdict.BORDERLINE


def is_met(value: Number, limit: Limit) -> bool:
    """Return whether the whole interval lies on the good side, whatever the limit's source."""
    return expanded(value) - _room(value, limit) <= _slack(limit)  # a NaN is never good


def _room(value: Number, limit: Limit) -> float:
    """Return how far the value is from the limit; negative on the wrong side."""
    sign = 1.0 if limit.side is Side.AT_MOST else -1.0
    return sign * (limit.value - nominal(value))


def _slack(limit: Limit) -> float:
    return 1e-8 * max(1.0, abs(limit.value))  # the limit is kept to nine digits


def margin_words(margin: Amount | None) -> str:
    """Say on which side of its nearest limit a value lies, and how far; nothing without a margin.

    One that is smaller than its uncertainty has no side.

    Examples
    --------
    >>> margin_words(Amount(value="-0.4", unit="V"))
    '0.4 V outside the limit'
    """
    if margin is None:
        return ""
    value, unit = Decimal(margin.value), margin.unit
    if not value.is_finite():
        return ""
    if not value:
        return "at the limit"
    if margin.expanded and abs(value) < Decimal(margin.expanded):
        return f"{abs(value):f} {unit} from the limit, uncertain by {margin.expanded} {unit}"
    return f"{abs(value):f} {unit} {'outside' if value < 0 else 'inside'} the limit"


def margin(value: Number, limits: Sequence[Limit], symbol: str) -> Amount | None:
    """Return the distance to the nearest limit, negative beyond it.

    It is as uncertain as the value, and rounded by that; of exact numbers it shows the decimal
    places that value and limit show.
    """

    def distance(limit: Limit) -> Number:
        return limit.value - value if limit.side is Side.AT_MOST else value - limit.value

    if not limits:
        return None
    nearest = min(limits, key=lambda limit: nominal(distance(limit)))
    places = None
    if expanded(value) <= 0:
        shown = (nearest.amount.value, amount(value, symbol).value)
        places = max(len(text.partition(".")[2]) for text in shown)
    return amount(distance(nearest), symbol, of="margin", places=places)
