"""What a check may ask: its inputs, their options, and when and where each is asked."""

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Final, TypeAlias

from checks.check.situation import Situation
from checks.record import Category, InstrumentKind
from checks.units import Dimension

Where: TypeAlias = Callable[[Situation], bool]


def everywhere(_: Situation) -> bool:
    """Ask at every installation."""
    return True


@dataclass(frozen=True)
class Option:
    """One option of a choice.

    Parameters
    ----------
    value : str
        The identity that is stored.
    label : str
        The words that are shown.
    detail : str
        More words under them, where they need some.
    ends : bool
        Once it is picked nothing more is asked: a stop sign ends a test.
    needs : tuple of str
        Checks that must stand before it may be picked, as a check's own ``needs`` do: a test that
        is made at the panel needs its bus dead, the same test made at the outlet does not.
    where : callable
        Whether it may be the answer at this installation.
    needs_where : callable
        Whether it needs them at this installation: conductors land in a charger that is wired in.
    """

    value: str
    label: str = ""
    detail: str = ""
    ends: bool = False
    needs: tuple[str, ...] = ()
    where: Where = field(default=everywhere, kw_only=True)
    needs_where: Where = field(default=everywhere, kw_only=True)

    @property
    def words(self) -> str:
        """What the screen shows."""
        return self.label or self.value


@dataclass(frozen=True)
class When:
    """Ask an input only after another input of the same check has one of these answers.

    A yes/no answer is compared as ``"yes"`` or ``"no"``.
    """

    input: str
    answers: tuple[str, ...]


@dataclass(frozen=True)
class Input:
    """What every kind of input has.

    Parameters
    ----------
    name : str
        Identity within its check.
    label : str
        What is asked.
    help : str
        More words under it.
    when : When, optional
        The answer of the same check after which it is asked.
    where : callable
        Whether this installation has what is asked about, such as a third line.
    optional : bool
        May be passed over.
    """

    name: str
    label: str
    help: str = field(default="", kw_only=True)
    when: When | None = field(default=None, kw_only=True)
    where: Where = field(default=everywhere, kw_only=True)
    optional: bool = field(default=False, kw_only=True)


@dataclass(frozen=True)
class Choice(Input):
    """One of several options."""

    options: tuple[Option, ...] = ()


@dataclass(frozen=True)
class YesNo(Input):
    """A question answered with yes or no.

    Parameters
    ----------
    good : bool
        The answer that speaks for the work.
    says : tuple of str
        What is seen where the answer is yes, and where it is no: a word or two each, so that
        nobody has to work out which of the two is the bad one. What is recorded is yes or no.
    """

    good: bool | None = None
    says: tuple[str, str] = ("Yes", "No")

    @property
    def has_words(self) -> bool:
        """Whether its answers say what was seen."""
        return self.says != YesNo.says

    def words(self, *, yes: bool) -> str:
        """Say one of its answers."""
        return self.says[0 if yes else 1]

    @property
    def answers(self) -> tuple[tuple[str, str], ...]:
        """Both answers as offered, name and words: what speaks for the work first, if words do."""
        both = (("yes", self.says[0]), ("no", self.says[1]))
        return both[::-1] if self.has_words and self.good is False else both


@dataclass(frozen=True)
class Words(Input):
    """Free words, such as a serial number."""


EVERY: Final = ("*",)


@dataclass(frozen=True)
class Rating(Input):
    """A rating, size or count that is read off, not measured: exact.

    Parameters
    ----------
    dimension, units, plausible : as of `Measurement`
    against : tuple of str
        As of `Measurement`.
    """

    dimension: Dimension = Dimension.CURRENT
    units: tuple[str, ...] = ("A",)
    plausible: tuple[float, float] = (0.0, 1e9)  # in the unit used inside
    against: tuple[str, ...] = field(default=(), kw_only=True)


@dataclass(frozen=True)
class Measurement(Input):
    """A measured value.

    Parameters
    ----------
    dimension : Dimension
        What is measured.
    units : tuple of str
        Units it may be typed in; the first is offered.
    plausible : tuple of float
        Between these the number is taken as typed; beyond, it is questioned. In the unit used
        inside.
    instruments : tuple of InstrumentKind
        What it may be taken with; empty where the eye or the vehicle's display is enough.
    category : Category
        The least measurement category at this place.
    access_point : str
        Where the probes go, or where the value is read.
    signed : bool
        Whether a value below zero makes sense.
    against : tuple of str
        The limits that the number itself is held against, by what they are limits of; `EVERY` for
        all of its check that have its unit. Empty for one that is only reckoned with.
    """

    dimension: Dimension = Dimension.VOLTAGE
    units: tuple[str, ...] = ("V",)
    plausible: tuple[float, float] = (0.0, 1e9)
    instruments: tuple[InstrumentKind, ...] = ()
    category: Category = Category.NONE
    access_point: str = ""
    signed: bool = False
    against: tuple[str, ...] = field(default=(), kw_only=True)


@dataclass(frozen=True)
class Series(Measurement):
    """Readings of one quantity over time; the series of a check are taken side by side.

    Parameters
    ----------
    every_s : float
        How long after a reading the next one is due. [s]
    """

    every_s: float = 120.0


AnyInput: TypeAlias = Choice | YesNo | Words | Rating | Measurement | Series
