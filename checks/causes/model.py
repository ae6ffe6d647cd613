"""What is said of the causes: plain words and shares that a screen and a report can draw."""

from enum import StrEnum

from checks.check import CircuitState
from checks.path import Station
from checks.source import Source
from checks.verdict import Severity, Shown


class Standing(StrEnum):
    """How a cause stands."""

    PROVEN = "proven"
    LIKELY = "likely"
    POSSIBLE = "possible"
    UNLIKELY = "unlikely"


class Status(StrEnum):
    """How far the search is."""

    UNTOLD = "no symptom recorded"
    OPEN = "not settled"
    PROVEN = "proven"
    STUCK = "cannot be told apart here"


class Weight(StrEnum):
    """How much a finding says."""

    STRONG = "strongly"
    CLEAR = "clearly"
    SLIGHT = "slightly"


class Ground(Shown):
    """One finding that speaks for or against a cause.

    Parameters
    ----------
    words : str
        What was found, as a technician would say it.
    detail : str
        The judgement of the check it is read from: its numbers.
    weight : Weight
        How much it says here, beside everything else that was found.
    check, subject : str
        Where it was recorded; empty subject where only a judgement tells it.
    basis : Source
        What its likelihood ratio rests on.
    """

    words: str
    detail: str
    weight: Weight
    check: str
    subject: str
    basis: Source


class Verification(Shown):
    """A check to repeat after the repair.

    Parameters
    ----------
    check, title : str
        Which.
    before, after : str
        What it said as found, and what it says since; empty where it was not made.
    is_repeated : bool
        Whether its entry was made after mending.
    """

    check: str
    title: str
    before: str
    after: str
    is_repeated: bool


class RankedCause(Shown):
    """A cause with how likely it is.

    Parameters
    ----------
    cause, title : str
        Which, and in the trade's words.
    station : Station
        Where on the path.
    subject : str
        The panel, the charging point or the site.
    standing : Standing
        Proven, likely (half or more), possible, unlikely (below 5 %).
    share : str
        Probability as decimal text, four digits.
    share_pct : int
        The same in whole per cent.
    explanation, remedy : str
        How it makes the symptom, and what to do about it.
    severity : Severity
        How bad it is to leave it.
    speaks_for, speaks_against : tuple of Ground
        The strongest first.
    settles : str
        The check that proves it or rules it out; its title in ``settles_title``.
    verify : tuple of Verification
        What to repeat after the repair.
    needs : tuple of str
        Checks that must stand before a hand goes to the remedy.
    """

    cause: str
    title: str
    station: Station
    subject: str
    standing: Standing
    share: str
    share_pct: int
    explanation: str
    remedy: str
    severity: Severity
    speaks_for: tuple[Ground, ...]
    speaks_against: tuple[Ground, ...]
    settles: str
    settles_title: str
    verify: tuple[Verification, ...]
    needs: tuple[str, ...] = ()


class Prospect(Shown):
    """One thing a test may show, and what it would mean.

    Parameters
    ----------
    words : str
        What is found.
    chance_pct : int
        How likely that is now.
    meaning : str
        The leading cause then, in one sentence.
    """

    words: str
    chance_pct: int
    meaning: str


class NextTest(Shown):
    """The next best test.

    Parameters
    ----------
    check, title, how : str
        The check to make, and how.
    subject : str
        Where its entry belongs.
    state : CircuitState
        What the circuit must be in for it.
    first : tuple of str
        Titles of the checks that must stand before.
    minutes : int
        How long it takes, with those. [min]
    bits : str
        Expected information, as decimal text. [bit]
    prospects : tuple of Prospect
        What it may show, the likeliest first.
    """

    check: str
    title: str
    how: str
    subject: str
    state: CircuitState
    first: tuple[str, ...]
    minutes: int
    bits: str
    prospects: tuple[Prospect, ...]


class Ranking(Shown):
    """The causes of one charging point's fault, the likeliest first.

    Parameters
    ----------
    point, name : str
        The charging point.
    status : Status
        How far the search is.
    says : str
        The same in one sentence.
    causes : tuple of RankedCause
        The likeliest first; those below half a per cent are left out.
    two_at_once_pct : int
        How likely it is that two causes are at work.
    likeliest_two : tuple of str
        The titles of the two, where they together are possible; empty otherwise.
    none_pct : int
        How likely it is none of these.
    next_test : NextTest, optional
        None when the search is over, or nothing that may be done here tells more.
    barred : tuple of str
        Why tests were not offered, such as a part that is burnt.
    """

    point: str
    name: str
    status: Status
    says: str
    causes: tuple[RankedCause, ...]
    two_at_once_pct: int
    likeliest_two: tuple[str, ...]
    none_pct: int
    next_test: NextTest | None = None
    barred: tuple[str, ...] = ()
