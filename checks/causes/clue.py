"""A clue: what one check of the visit can say about a cause, as one of a few outcomes."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from checks.check import Situation
from checks.record import Chosen
from checks.verdict import Judgement, Verdict


@dataclass(frozen=True)
class View:
    """What the causes may read: the entries of the visit and the judgements of its checks.

    Parameters
    ----------
    situation : Situation
        The charging point with its entries.
    judgements : Mapping
        The judgement of every check of this point's path, by check id.
    """

    situation: Situation
    judgements: Mapping[str, Judgement]

    def verdict(self, check: str) -> Verdict | None:
        """Return the verdict of a check; nothing where it was not judged here."""
        found = self.judgements.get(check)
        return None if found is None else found.verdict

    def asks(self, check: str) -> bool:
        """Return whether a check is asked at this installation."""
        return self.verdict(check) not in (None, Verdict.NOT_APPLICABLE)


Read: TypeAlias = Callable[[View], str | None]


@dataclass(frozen=True)
class Outcome:
    """One thing a check can show.

    Parameters
    ----------
    value : str
        Its identity.
    words : str
        What it is, as a phrase a technician would say.
    usual : float
        How often it is found where none of the causes that speak of it is at work. [-]
    """

    value: str
    words: str
    usual: float


@dataclass(frozen=True)
class Clue:
    """What one check can say about a cause.

    Parameters
    ----------
    id : str
        Identity.
    check : str
        The check whose entry or judgement it is read from.
    outcomes : tuple of Outcome
        What can be found, each once; the usual shares sum to one.
    normal : str
        The outcome of a sound installation; empty where there is none.
    read : callable
        From the view to an outcome; nothing while it was not made or does not decide.
    group : str
        Clues of one group are signs of one thing: only the strongest for a cause, and the
        strongest against it, count. Empty: the clue stands alone.
    rests_on : tuple of str
        Checks that it is read from as well: without them it tells nothing, or leaves open.
    leaves_open : Mapping
        By an outcome that is read while some of those are missing: what it may turn out to be.
    """

    id: str
    check: str
    outcomes: tuple[Outcome, ...]
    normal: str
    read: Read
    group: str = ""
    rests_on: tuple[str, ...] = ()
    leaves_open: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def kind(self) -> str:
        """The group it counts with."""
        return self.group or self.id

    def outcome(self, value: str) -> Outcome:
        """Return one of its outcomes; KeyError when there is none of that name."""
        return {o.value: o for o in self.outcomes}[value]

    def ahead(self, now: str | None) -> tuple[Outcome, ...]:
        """Return what it may still be read as, by what it is read as now; empty once it is told."""
        if now is None:
            return self.outcomes
        return tuple(self.outcome(value) for value in self.leaves_open.get(now, ()))


def outcomes(*rows: tuple[str, float, str]) -> tuple[Outcome, ...]:
    """Return outcomes written as rows: value, usual share [-], words."""
    return tuple(Outcome(value, words, usual) for value, usual, words in rows)


def picked(reference: str, *only: str) -> Read:
    """Read an option that was picked; where some are named, only those."""

    def read(view: View) -> str | None:
        option = view.situation.choice(reference)
        return option if not only or option in only else None

    return read


def last_picked(reference: str, *only: str) -> Read:
    """Read one of these options from the last entry that picked one of them.

    A check that is made once more in the search may say something else: a terminal that was found
    loose, and tightened since, was loose.
    """
    check, _, name = reference.rpartition(".")

    def read(view: View) -> str | None:
        s = view.situation
        if s.entry(check) is None:
            return None
        made = sorted(s.visit.entries, key=lambda e: -e.number)
        answers = (e.answer(name) for e in made if (e.check, e.subject) == (check, s.subject))
        options = (a.option for a in answers if isinstance(a, Chosen))
        return next((o for o in options if o in only), None)

    return read


def said(reference: str) -> Read:
    """Read the answer to a yes/no question as ``"yes"`` or ``"no"``."""

    def read(view: View) -> str | None:
        answer = view.situation.yes(reference)
        return None if answer is None else ("yes" if answer else "no")

    return read


def any_said(*references: str) -> Read:
    """Read several yes/no questions: ``"yes"`` where one is, ``"no"`` where all are no."""

    def read(view: View) -> str | None:
        answers = [view.situation.yes(reference) for reference in references]
        if True in answers:
            return "yes"
        return None if None in answers else "no"

    return read


def judged(check: str, within: str = "good", outside: str = "bad") -> Read:
    """Read the verdict of a check as one of two outcomes; as nothing where it decides nothing."""

    def read(view: View) -> str | None:
        return {Verdict.WITHIN: within, Verdict.OUTSIDE: outside}.get(
            view.verdict(check) or Verdict.NOT_MEASURED
        )

    return read


def sign(name: str, reference: str, share: float, yes: str, no: str, group: str = "") -> Clue:
    """Return a yes/no question as a clue, with how often it is yes [-]; sound ones say no."""
    either = outcomes(("no", 1 - share, no), ("yes", share, yes))
    return Clue(name, reference.rpartition(".")[0], either, "no", said(reference), group)


def fault(
    name: str, check: str, share: float, bad: str, good: str, rests_on: tuple[str, ...] = ()
) -> Clue:
    """Return the verdict of a check as a clue, with how often it is bad [-]."""
    either = outcomes(("good", 1 - share, good), ("bad", share, bad))
    return Clue(name, check, either, "good", judged(check), rests_on=rests_on)
