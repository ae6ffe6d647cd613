"""A limit as computed for the installation at hand, with what stands behind it."""

from collections.abc import Sequence
from decimal import Decimal
from enum import StrEnum
from typing import Protocol

from pydantic import BaseModel, ConfigDict

from checks.quantity import Amount, amount
from checks.source import Source


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
