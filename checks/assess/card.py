"""What a card to leave at the site holds, and why one is not made."""

from enum import StrEnum

from checks.source import Source
from checks.verdict import Severity, Shown


class Kind(StrEnum):
    """What a card is."""

    DIRECTORY = "panel directory"
    ADJUSTED = "adjusted rating"
    MANAGED = "load management"
    TAG = "lock-out tag"
    NEXT = "next inspection"
    MONTHLY = "monthly ground-fault test"


class Card(Shown):
    """One card to leave.

    Parameters
    ----------
    kind : Kind
        What it is.
    title, goes : str
        Its heading, and where it is put.
    lines : tuple of (str, str)
        Label and words; a line without a label stands large.
    steps : tuple of str
        What the owner does, in order.
    cautions : tuple of (Severity, str)
        Said before the steps.
    fill_in : tuple of str
        What each line to be filled in begins with.
    sources : tuple of Source
        What asks for it.
    """

    kind: Kind
    title: str
    goes: str
    lines: tuple[tuple[str, str], ...]
    steps: tuple[str, ...] = ()
    cautions: tuple[tuple[Severity, str], ...] = ()
    fill_in: tuple[str, ...] = ()
    sources: tuple[Source, ...] = ()


class Lacking(Shown):
    """A card that belongs here and is not made, and why."""

    kind: Kind
    where: str
    why: str


class LeaveBehinds(Shown):
    """What is left at the site."""

    cards: tuple[Card, ...]
    lacking: tuple[Lacking, ...]
