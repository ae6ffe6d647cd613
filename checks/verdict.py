"""What a verdict means: the words, the limit, the decision rule, and what a judgement holds."""

from collections.abc import Iterable, Sequence
from decimal import Decimal
from enum import StrEnum
from typing import Protocol

from pydantic import BaseModel, ConfigDict

from checks.quantity import Amount, amount, expanded, nominal
from checks.source import Source
from checks.units import Number


class Verdict(StrEnum):
    """The five words, the same everywhere."""

    WITHIN = "within"
    OUTSIDE = "outside"
    BORDERLINE = "borderline"
    NOT_MEASURED = "not measured"
    NOT_APPLICABLE = "not applicable"


WORST_FIRST = (
    Verdict.OUTSIDE,
    Verdict.BORDERLINE,
    Verdict.NOT_MEASURED,
    Verdict.WITHIN,
    Verdict.NOT_APPLICABLE,
)


def worst(verdicts: Iterable[Verdict]) -> Verdict:
    """Return the worst of several verdicts; of none, ``not applicable``."""
    return min(verdicts, key=WORST_FIRST.index, default=Verdict.NOT_APPLICABLE)


class Severity(StrEnum):
    """How bad a finding is, in the signal words of ANSI Z535, worst first."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"

    @property
    def is_grave(self) -> bool:
        """Whether nothing is used or energised before it is mended."""
        return self in (Severity.DANGER, Severity.WARNING)


class Force(StrEnum):
    """What stands behind a limit."""

    CODE_RULE = "code rule"
    LISTING = "listing or maker"
    RECOMMENDATION = "recommendation"
    TRADE_JUDGEMENT = "trade judgement"


class Side(StrEnum):
    """On which side of the limit the value belongs."""

    AT_MOST = "at most"
    AT_LEAST = "at least"


class Shown(BaseModel):
    """Derived values: frozen, nothing extra."""

    model_config = ConfigDict(frozen=True, extra="forbid")


class Limit(Shown):
    """A limit as computed for the installation at hand.

    Parameters
    ----------
    side : Side
        Whether the value must be at most or at least this.
    amount : Amount
        The limit, with the unit it is shown in.
    exact : str
        The limit in the unit used inside, to nine significant digits, as decimal text.
    force : Force
        What stands behind it.
    source : Source
        Where it comes from.
    working : tuple of str
        How it was computed, line by line, so that it can be followed by hand.
    """

    side: Side
    amount: Amount
    exact: str
    force: Force
    source: Source
    working: tuple[str, ...] = ()

    @property
    def value(self) -> float:
        """The limit in the unit used inside, not rounded for show."""
        return float(self.exact)

    def __str__(self) -> str:
        """Say the limit in one phrase."""
        return f"{self.side} {self.amount}"


def _limit(side: Side) -> "LimitMaker":
    def make(
        value: float,
        symbol: str,
        force: Force,
        source: Source,
        *,
        of: str = "",
        places: int | None = None,
        working: Sequence[str] = (),
    ) -> Limit:
        return Limit(
            side=side,
            amount=amount(value, symbol, of=of, places=places),
            exact=f"{Decimal(f'{value:.9g}'):f}",
            force=force,
            source=source,
            working=tuple(working),
        )

    return make


class LimitMaker(Protocol):
    """Makes a limit; ``value`` is in the unit used inside, ``symbol`` the unit it is shown in."""

    def __call__(
        self,
        value: float,
        symbol: str,
        force: Force,
        source: Source,
        *,
        of: str = "",
        places: int | None = None,
        working: Sequence[str] = (),
    ) -> Limit:
        """Return the limit."""


at_most: LimitMaker = _limit(Side.AT_MOST)
at_least: LimitMaker = _limit(Side.AT_LEAST)


class VoltageStep(Shown):
    """One step of the voltage staircase.

    Parameters
    ----------
    label : str
        The place on the path.
    no_load_v, loaded_v : str
        Volts read there without and with load. [V]
    metal_v : str
        Volts that would be left under load if nothing but metal lay on the way. [V]
    """

    label: str
    no_load_v: str = ""
    loaded_v: str = ""
    metal_v: str = ""


class Tracked(Shown):
    """A quantity that is followed from visit to visit, brought to conditions that compare.

    Parameters
    ----------
    amount : Amount
        The value with its uncertainty; ``of`` names it, the same at every visit.
    limits : tuple of Limit
        What it is held against.
    at : Amount, optional
        The current it was brought to, where it grows with the current.
    """

    amount: Amount
    limits: tuple[Limit, ...]
    at: Amount | None = None


class HeatPoint(Shown):
    """One point of a heating curve: minutes since the first reading, and temperature."""

    minute: str
    value: str
    is_left_out: bool = False


class HeatEnd(Shown):
    """Where a heating curve ends at a current: best value and bounds; open upward without ``high``.

    Parameters
    ----------
    label : str
        At which current.
    low, value, high : str
        Temperatures.
    """

    label: str
    low: str
    value: str
    high: str = ""


class HeatLine(Shown):
    """A temperature that a heating curve is held against."""

    label: str
    value: str
    is_stop: bool = False


class HeatingCurve(Shown):
    """A heating curve as it is drawn; all temperatures in the unit that was read.

    Parameters
    ----------
    unit : str
        "°C" or "°F".
    says : str
        What the readings allow to be said of the end, in one sentence.
    is_settled : bool
        Nothing is gained by measuring on: a forecast stands, or the test has ended.
    readings, like : tuple of HeatPoint
        Of the part, and of a like part.
    curve : tuple of HeatPoint
        The best curve, to its end; empty without a fit.
    ends : tuple of HeatEnd
        At the current of the test, and at full current.
    lines : tuple of HeatLine
        Air, limits and the stop temperature.
    """

    unit: str
    says: str
    is_settled: bool = False
    readings: tuple[HeatPoint, ...] = ()
    like: tuple[HeatPoint, ...] = ()
    curve: tuple[HeatPoint, ...] = ()
    ends: tuple[HeatEnd, ...] = ()
    lines: tuple[HeatLine, ...] = ()


class Judgement(Shown):
    """What a check's judge says.

    Parameters
    ----------
    verdict : Verdict
        One of the five words.
    explanation : str
        One sentence: what was found, against what.
    measured : Amount, optional
        The deciding value with its uncertainty.
    limits : tuple of Limit
        The limits as computed here; filled even when nothing has been measured yet, so that the
        limit is in view before the number is typed.
    margin : Amount, optional
        How far the value is from the nearest limit; negative beyond it.
    why : str
        Why it matters.
    remedy : str
        What to do about it, when not within.
    settles : str
        For a borderline verdict, what would settle it.
    severity : Severity, optional
        For a finding.
    sources : tuple of Source
        What the verdict rests on, beside the limits' own sources.
    working : tuple of str
        The arithmetic, line by line.
    telling : str
        The one number or word that the station shows on the path.
    steps : tuple of VoltageStep
        What this judgement adds to the voltage staircase.
    heating : HeatingCurve, optional
        The heating curve that it rests on.
    tracked : tuple of Tracked
        What is followed from visit to visit.
    """

    verdict: Verdict
    explanation: str
    measured: Amount | None = None
    limits: tuple[Limit, ...] = ()
    margin: Amount | None = None
    why: str = ""
    remedy: str = ""
    settles: str = ""
    severity: Severity | None = None
    sources: tuple[Source, ...] = ()
    working: tuple[str, ...] = ()
    telling: str = ""
    steps: tuple[VoltageStep, ...] = ()
    heating: HeatingCurve | None = None
    tracked: tuple[Tracked, ...] = ()


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
