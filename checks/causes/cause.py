"""A cause: what went wrong, what speaks for and against it, what proves it, and what to do."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.causes.clue import Clue
from checks.check import Where, everywhere
from checks.path import Station
from checks.source import Source
from checks.verdict import Severity


@dataclass(frozen=True)
class Evidence:
    """What one outcome of a clue says about a cause.

    Parameters
    ----------
    clue, outcome : str
        What is found.
    ratio : float
        Likelihood ratio: how much more often it is found with this cause than where no cause
        that speaks of it is at work; below one it speaks against the cause. [-]
    basis : Source
        What the ratio rests on.
    """

    clue: str
    outcome: str
    ratio: float
    basis: Source


@dataclass(frozen=True)
class Proof:
    """The outcome of a test that proves a cause."""

    clue: str
    outcome: str


@dataclass(frozen=True)
class Cause:
    """A cause of a service call.

    Parameters
    ----------
    id : str
        Identity.
    title : str
        In the trade's words.
    station : Station
        Where on the path it sits.
    weight : float
        How often it is behind a service call, relative to the other causes. [-]
    evidence : tuple of Evidence
        What speaks for and against it.
    proofs : tuple of Proof
        What proves it; the first is the test that settles it.
    explanation : str
        How it makes the symptom, in one sentence.
    remedy : str
        What to do about it.
    verify : tuple of str
        Checks to repeat after the repair.
    severity : Severity
        How bad it is to leave it.
    needs : tuple of str
        Checks that must stand before a hand goes to the remedy: what is opened is proved dead.
    needs_where : callable
        Whether it needs them at this installation, as an option of a check says it.
    where : callable
        Whether this installation has what it is about: no receptacle wears where there is none.
    """

    id: str
    title: str
    station: Station
    weight: float
    evidence: tuple[Evidence, ...]
    proofs: tuple[Proof, ...]
    explanation: str
    remedy: str
    verify: tuple[str, ...]
    severity: Severity
    needs: tuple[str, ...] = ()
    needs_where: Where = everywhere
    where: Where = everywhere

    def says(self, clue: str) -> dict[str, Evidence]:
        """Return what it says about a clue, by outcome."""
        return {e.outcome: e for e in self.evidence if e.clue == clue}


def shares(cause: Cause, clue: Clue) -> Mapping[str, float]:
    """Return how often each outcome of a clue is found with a cause.

    Outcomes the cause says nothing of share what is left, as they usually do.

    Parameters
    ----------
    cause : Cause
        The cause.
    clue : Clue
        The clue.

    Returns
    -------
    Mapping
        Share of each outcome; they sum to one. [-]

    References
    ----------
    Bayes' rule; P(outcome | cause) = usual share × likelihood ratio.
    """
    told = cause.says(clue.id)
    stated = {o.value: o.usual * told[o.value].ratio for o in clue.outcomes if o.value in told}
    usual_left = sum(o.usual for o in clue.outcomes if o.value not in told)
    left = 1.0 - sum(stated.values())
    if usual_left <= 0.0:
        whole = sum(stated.values())
        return {value: share / whole for value, share in stated.items()}
    scale = left / usual_left
    return {o.value: stated.get(o.value, o.usual * scale) for o in clue.outcomes}
