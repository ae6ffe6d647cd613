"""What a rule answers: a number with its working, or a yes, a no, or that it is read two ways."""

from dataclasses import dataclass
from enum import StrEnum

from checks.source import Source
from checks.verdict import Force, Limit, at_most


class Outcome(StrEnum):
    """The answer to a question put to a code."""

    YES = "yes"
    NO = "no"
    READ_TWO_WAYS = "read two ways, the authority having jurisdiction decides"


def weakest(sources: tuple[Source, ...]) -> Source:
    """Return the first source that proves nothing by itself, else the first of all."""
    return next((source for source in sources if not source.can_prove), sources[0])


@dataclass(frozen=True)
class Worked:
    """A number with its working.

    Parameters
    ----------
    value : float
        In the unit that the function's name says.
    sources : tuple of Source
        Everything it rests on, the ruling clause first.
    working : tuple of str
        One line a step, each naming factor and clause.
    force : Force
        What stands behind it.
    """

    value: float
    sources: tuple[Source, ...]
    working: tuple[str, ...]
    force: Force = Force.CODE_RULE

    @property
    def source(self) -> Source:
        """The weakest source that the number rests on: it is no better known than that."""
        return weakest(self.sources)

    def at_most(self, symbol: str, *, of: str) -> Limit:
        """Return it as a limit from above, with its working.

        Parameters
        ----------
        symbol : str
            The unit it is shown in. [-]
        of : str
            What it limits. [-]

        Returns
        -------
        Limit
            The limit. [-]
        """
        return at_most(self.value, symbol, self.force, self.source, of=of, working=self.working)


@dataclass(frozen=True)
class Ruling:
    """A yes or no of the code.

    Parameters
    ----------
    outcome : Outcome
        Yes, no, or read two ways.
    why : str
        One sentence in our own words.
    sources : tuple of Source
        The clauses, the ruling one first.
    force : Force
        What stands behind it.
    """

    outcome: Outcome
    why: str
    sources: tuple[Source, ...]
    force: Force = Force.CODE_RULE

    @property
    def source(self) -> Source:
        """The weakest source that the ruling rests on."""
        return weakest(self.sources)


@dataclass(frozen=True)
class SizeAnswer:
    """A conductor size with its working; ``source`` as in ``Worked``."""

    size: str
    sources: tuple[Source, ...]
    working: tuple[str, ...]

    @property
    def source(self) -> Source:
        """The weakest source that the size rests on."""
        return weakest(self.sources)
