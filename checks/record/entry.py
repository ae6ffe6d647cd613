"""Entries: what was seen, measured, or left out with its reason."""

from enum import StrEnum
from typing import Annotated, Final, Literal

from pydantic import Field

from checks.quantity import DecimalText
from checks.record.model import Code, Record, Text, Timestamp
from checks.record.photo import PHOTOS_MOST, Photo

READINGS_MOST: Final = 500  # of one series


class Chosen(Record):
    """An option that was picked."""

    kind: Literal["choice"] = "choice"
    input: Code
    option: Text


class YesNoAnswer(Record):
    """A question answered with yes or no."""

    kind: Literal["yes_no"] = "yes_no"
    input: Code
    yes: bool


class Worded(Record):
    """Words, such as a serial number."""

    kind: Literal["text"] = "text"
    input: Code
    text: Text


class Reading(Record):
    """One number as it was typed, with its unit, place, instrument and time."""

    kind: Literal["reading"] = "reading"
    input: Code
    value: DecimalText
    unit: Annotated[str, Field(max_length=10)]
    at: Timestamp
    access_point: Text = ""
    instrument: Code | None = None


class Readings(Record):
    """Several readings of one input, such as a series in time."""

    kind: Literal["series"] = "series"
    input: Code
    readings: Annotated[tuple[Reading, ...], Field(max_length=READINGS_MOST)]


Answer = Annotated[Chosen | YesNoAnswer | Worded | Reading | Readings, Field(discriminator="kind")]


class NotDoneReason(StrEnum):
    """Why a check was left out."""

    NO_ACCESS = "no access"
    NOT_SAFE = "not safe now"
    NO_INSTRUMENT = "no fit instrument here"
    NOT_ALLOWED = "owner or site rules do not allow it"
    OTHER = "another reason"


class NotDone(Record):
    """A check that was left out, and why."""

    reason: NotDoneReason
    text: Text = ""


class DangerAnswer(StrEnum):
    """What was answered when a danger interrupted the work."""

    OFF = "it is off, and people are away"
    STAYS_ON = "it cannot be switched off: people are away, help is called, nothing is touched"


class Entry(Record):
    """One entry for one check at one place.

    Entries are added, never changed: of several for one check and subject the one with the highest
    number counts, and the earlier ones stay in the record. Until the sign-off only photos may join
    or leave an entry, each says when it was added, and its note may be written anew.

    Parameters
    ----------
    number : int
        Order of entry, unique in the visit.
    check : str
        Which check, such as ``outlet.terminal_torque``.
    subject : str
        Which panel or charging point, or ``site``.
    at : str
        When it was made.
    answers : tuple of Answer
        What was seen and measured.
    not_done : NotDone, optional
        Why it was left out, instead of answers.
    cautions : tuple of str
        Cautions that were shown and acknowledged before it.
    after_mending : bool
        A repeat after something was mended on site.
    danger : DangerAnswer, optional
        What was answered when its danger interrupted the work.
    note, photos
        The technician's own words, and photos in the order to be seen.
    notes_before : tuple of str
        What the note said before it was written anew, the earliest first.
    """

    number: Annotated[int, Field(ge=1, le=100_000)]
    check: Code
    subject: Code
    at: Timestamp
    answers: Annotated[tuple[Answer, ...], Field(max_length=40)] = ()
    not_done: NotDone | None = None
    cautions: Annotated[tuple[Text, ...], Field(max_length=20)] = ()
    after_mending: bool = False
    danger: DangerAnswer | None = None
    note: Text = ""
    notes_before: Annotated[tuple[Text, ...], Field(max_length=20)] = ()
    photos: Annotated[tuple[Photo, ...], Field(max_length=PHOTOS_MOST)] = ()

    def answer(self, name: str) -> Answer | None:
        """Return the answer to one input, if it was given."""
        return next((a for a in self.answers if a.input == name), None)


EnteredState = Literal["dead and proved", "energised", "under load"]


class StateEntry(Record):
    """A charging point's circuit brought into a state, with the cautions acknowledged then.

    Its number is drawn from the same row as the entries', so that the record says which entries
    were made since.

    Parameters
    ----------
    brought_by : str
        Who brought it there or allowed it, where that was not the technician: name and company.
    is_found : bool
        It was found in this state; nobody brought it there for this visit.
    """

    number: Annotated[int, Field(ge=1, le=100_000)]
    point: Code
    state: EnteredState
    at: Timestamp
    brought_by: Text = ""
    is_found: bool = False
    cautions: Annotated[tuple[Text, ...], Field(max_length=20)] = ()
