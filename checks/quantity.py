"""Numbers with their units: decimals as typed, SI floats inside, measured values with accuracy."""

from collections.abc import Mapping
from decimal import Decimal
from math import floor, inf
from typing import Annotated, Final, Self

from pydantic import BaseModel, ConfigDict, Field, StringConstraints, model_validator
from uncertainties import ufloat

from checks.units import UNITS, Dimension, Number, from_si, to_si

# The digits that were typed. No exponent, no NaN: the canonical bytes need no float rules.
DecimalText = Annotated[
    str, StringConstraints(pattern=r"^-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?$", max_length=20)
]
PercentText = Annotated[str, StringConstraints(pattern=r"^(0|[1-9][0-9]{0,2})(\.[0-9]{1,4})?$")]

SLACK: Final = 1e-9  # what is left of a decimal number in binary
COVERAGE: Final = 2.0  # k, for about 95 %: JCGM 100:2008, 6.2.1 (from memory)
SQRT_3: Final = (
    3**0.5
)  # a limit of error is taken as rectangular: JCGM 100:2008, 4.3.7 (from memory)


class Accuracy(BaseModel):
    """One row of a meter's data sheet: ±(% of reading + counts of the last digit) in a range.

    Parameters
    ----------
    dimension : Dimension
        What it measures.
    percent : str
        Per cent of the reading. [%]
    counts : int
        Counts of the last digit shown.
    unit : str
        Of resolution and range; empty for the unit used inside.
    resolution : str, optional
        The least step that is shown.
    low, high : str, optional
        Between these the row holds; the sign of a reading does not matter, but of a temperature.
    """

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    dimension: Dimension
    percent: PercentText
    counts: Annotated[int, Field(ge=0, le=10_000)]
    unit: str = ""
    resolution: DecimalText | None = None
    low: DecimalText | None = None
    high: DecimalText | None = None

    @model_validator(mode="after")
    def _unit_fits(self) -> Self:
        known = UNITS.get(self.shown_unit)
        if known is None or known.dimension is not self.dimension:
            raise ValueError(f"{self.unit!r} is no unit of {self.dimension.name.lower()}")
        return self

    @property
    def shown_unit(self) -> str:
        """The unit of resolution and range."""
        return self.unit or self.dimension.value

    def __str__(self) -> str:
        """Say the class and its range in one phrase."""
        error = f"{self.percent} % + {self.counts} {'count' if self.counts == 1 else 'counts'}"
        if self.resolution:
            error = (
                f"{self.percent} % + {self.counts} {'count' if self.counts == 1 else 'counts'} of "
                f"{self.resolution} {self.shown_unit}"
            )
        bounds = ("from", self.low), ("to", self.high)
        ends = [f" {word} {x} {self.shown_unit}" for word, x in bounds if x is not None]
        return f"±({error}){''.join(ends)}"

    @property
    def _range(self) -> tuple[float, float]:
        """From where to where the row holds, in the unit used inside."""
        low = -inf if self.low is None else to_si(float(self.low), self.shown_unit)
        high = inf if self.high is None else to_si(float(self.high), self.shown_unit)
        return float(low), float(high)

    def covers(self, value: float) -> bool:
        """Whether a value, in the unit used inside, lies in the range of this row."""
        low, high = self._range
        return low <= (value if self.dimension is Dimension.TEMPERATURE else abs(value)) <= high

    def reaches(self, low: float, high: float) -> bool:
        """Whether the range holds anything between two values, in the unit used inside."""
        least, most = self._range
        return least <= max(abs(low), abs(high)) and most >= max(low, 0.0)

    def step(self, symbol: str) -> float:
        """Return the least step that is shown, in a unit a reading is typed in; 0 if unknown."""
        size = float(self.resolution or 0) * UNITS[self.shown_unit].factor
        return size / UNITS[symbol].factor


# A plain hand-held class for each quantity, used when no instrument is named; the report says so.
DEFAULT_ACCURACY: Final[Mapping[Dimension, tuple[str, int]]] = {
    Dimension.VOLTAGE: ("1.0", 3),
    Dimension.CURRENT: ("2.0", 5),
    Dimension.RESISTANCE: ("2.0", 3),
    Dimension.TEMPERATURE: ("2.0", 10),
    Dimension.RISE: ("2.0", 10),
    Dimension.TORQUE: ("6.0", 1),
    Dimension.FORCE: ("2.0", 2),
    Dimension.TIME: ("1.0", 2),
    Dimension.LENGTH: ("2.0", 1),
    Dimension.RATIO: ("0.5", 5),
    Dimension.POWER: ("2.0", 1),
}


def default_accuracy(dimension: Dimension) -> Accuracy | None:
    """Return the class that judges a quantity where no instrument states one, if there is one."""
    if dimension not in DEFAULT_ACCURACY:
        return None
    percent, counts = DEFAULT_ACCURACY[dimension]
    return Accuracy(dimension=dimension, percent=percent, counts=counts)


def gain(accuracy: Accuracy) -> Number:
    """Return the relative gain error of one meter: shared by all its readings of one quantity."""
    return _error(float(accuracy.percent) / 100)


def _error(limit: float) -> Number:
    """Return an error of zero, give or take a limit; without one it is exact."""
    return ufloat(0.0, limit / SQRT_3) if limit > 0 else 0.0


def measured(text: str, symbol: str, accuracy: Accuracy, shared_gain: Number) -> Number:
    """Return a reading in the unit used inside, with its gain error shared and its counts its own.

    A count is the last digit typed, or the meter's least step where more digits were typed. Two
    readings by one meter share ``shared_gain``, so their difference is known far better than
    either (JCGM 100:2008, 5.2; from memory).
    """
    shown = float(text)
    step = max(typed_step(text), accuracy.step(symbol))
    return to_si(shown * (1 + shared_gain) + _error(accuracy.counts * step), symbol)


def typed_step(text: str) -> float:
    """Return the place value of the last digit of a decimal text.

    Examples
    --------
    >>> typed_step("31"), typed_step("31.0")
    (1.0, 0.1)
    """
    return float(10.0 ** int(Decimal(text).as_tuple().exponent))


def rounded_down(value: float, places: int = 0) -> float:
    """Return a value with so many places that is allowed wherever the value itself is.

    Parameters
    ----------
    value : float
        The most that is allowed, 0 or more. [any]
    places : int
        Digits behind the decimal mark. [-]

    Returns
    -------
    float
        The value, never more. [any]

    Examples
    --------
    >>> rounded_down(47.77), rounded_down(0.3, 1)
    (47.0, 0.3)
    """
    scale = 10**places
    return float(floor(value * scale + SLACK) / scale)


def nominal(value: Number) -> float:
    """Return the best estimate of a number that may carry an uncertainty."""
    return float(getattr(value, "nominal_value", value))


def expanded(value: Number) -> float:
    """Return the expanded uncertainty (k = 2) of a number; zero for an exact one."""
    return COVERAGE * float(getattr(value, "std_dev", 0.0))


class Amount(BaseModel):
    """A number as it is shown: decimal text, unit, and the text of its expanded uncertainty."""

    model_config = ConfigDict(frozen=True, extra="forbid")

    value: str
    unit: str
    expanded: str = ""
    of: str = ""

    def __str__(self) -> str:
        """Value, uncertainty and unit in one line."""
        spread = f" ± {self.expanded}" if self.expanded else ""
        return f"{self.value}{spread} {self.unit}"


def amount(value: Number, symbol: str, *, of: str = "", places: int | None = None) -> Amount:
    """Show a value that is held in the unit used inside.

    Parameters
    ----------
    value : Number
        In the unit used inside.
    symbol : str
        The unit to show it in.
    of : str
        What it is an amount of, for a label.
    places : int, optional
        Decimal places; without it, as many as leave two digits of the uncertainty, or as an exact
        number needs to show four digits.

    References
    ----------
    JCGM 100:2008, 7.2.6: at most two digits of an uncertainty, its value rounded to match.

    Examples
    --------
    >>> str(amount(240.0, "V")), str(amount(0.03333333, "Ω"))
    ('240 V', '0.03333 Ω')
    """
    shown = from_si(value, symbol)
    mid, spread = nominal(shown), expanded(shown)
    is_plain = places is None and spread <= 0
    if places is None:
        places = _places(spread) if spread > 0 else max(0, _places(abs(mid) / 100))
    text = _rounded(mid, places)
    if is_plain and "." in text:
        text = text.rstrip("0").rstrip(".")
    return Amount(
        value=text,
        unit=symbol,
        expanded=_rounded(spread, places) if spread > 0 else "",
        of=of,
    )


def _rounded(number: float, places: int) -> str:
    """Write a number to so many decimal places; fewer than none round to tens, hundreds..."""
    return f"{round(number, places) + 0.0:.{max(0, places)}f}"  # "+ 0.0": no "-0.0"


def _places(size: float) -> int:
    """Decimal places that show two digits of a number this large, after it is rounded to them."""
    return min(6, 1 - Decimal(f"{size:.1e}").adjusted()) if size > 0 else 0
