"""One value of a code with its source and its force; thresholds, and bands of a table."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from checks.source import Source
from checks.verdict import Force

T_co = TypeVar("T_co", covariant=True)


@dataclass(frozen=True)
class Rule(Generic[T_co]):
    """One value or one table of a code.

    Parameters
    ----------
    value : object
        A number, whose unit the name of the field says, or a whole table.
    source : Source
        Where it stands.
    force : Force
        What stands behind it.
    """

    value: T_co
    source: Source
    force: Force = Force.CODE_RULE


@dataclass(frozen=True)
class Threshold:
    """A number above which something holds, or from which on when ``is_included``."""

    value: float
    is_included: bool = False

    def is_passed_by(self, number: float) -> bool:
        """Whether the number lies beyond the threshold."""
        return number > self.value or (self.is_included and number == self.value)


@dataclass(frozen=True)
class Band(Generic[T_co]):
    """A row of a table that is read by bands: it holds up to and including ``upto``."""

    upto: float
    value: T_co
