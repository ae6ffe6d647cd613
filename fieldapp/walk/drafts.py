"""Checks that are being made: what is kept of them on disk until they are entries."""

from typing import Any, Final, TypeAlias

from checks.check import AnyInput, Check, Series
from checks.intake import BY_ID
from checks.record import (
    SCHEMA_VERSION,
    Answer,
    ChargingPoint,
    Correction,
    Entry,
    Panel,
    Reading,
    Record,
    upgraded,
)
from fieldapp.walk.measuring import with_reading
from fieldapp.walk.questions import Questions

Draft: TypeAlias = dict[str, Any]

_UNSAID: Final = 2  # the schema of a draft that does not say it: none did before the third


class Taken(Record):
    """A charging point or a panel that was taken away, kept until the visit is signed.

    Parameters
    ----------
    number : int
        Of what was recorded next: it was taken away before that.
    place : int
        Where it stood among its like.
    panels, points : tuple
        What was taken away; one of the two holds it.
    corrections : tuple of Correction
        Those that named it, whole.
    """

    number: int
    place: int
    panels: tuple[Panel, ...] = ()
    points: tuple[ChargingPoint, ...] = ()
    corrections: tuple[Correction, ...] = ()

    @property
    def name(self) -> str:
        """What it is called on site."""
        return self.points[0].name if self.points else self.panels[0].name

    @property
    def draft(self) -> Draft:
        """Its JSON form."""
        return {"schema_version": SCHEMA_VERSION, **self.model_dump(mode="json")}


def taken_of(draft: Draft) -> Taken:
    """Return what a draft holds of something that was taken away, brought to this schema."""
    here = {name: part for name, part in upgraded(draft).items() if name != "schema_version"}
    return Taken.model_validate(here, strict=False)


def key_of(questions: Questions) -> str:
    """Name a check at its subject."""
    return f"{questions.check.id}@{questions.entry.subject}"


def draft_of(questions: Questions) -> Draft:
    """Return a check or a form that is being answered in its JSON form."""
    return {
        "schema_version": SCHEMA_VERSION,
        "entry": questions.entry.model_dump(mode="json"),
        "typed": dict(questions.typed),
        "passed": sorted(questions.passed),
        "at": questions.at,
        **({"outlasts": True} if questions.outlasts else {}),
    }


def with_answer(questions: Questions, asked: AnyInput, made: Answer) -> Questions:
    """Take an answer; a reading of a series joins the others and the question stays."""
    if not (isinstance(asked, Series) and isinstance(made, Reading)):
        return questions.answered(made)
    return with_reading(questions, asked, made)


def resumed(check: Check, draft: Draft) -> Questions:
    """Return a check or a form as its draft holds it."""
    entry = _read(draft)
    return Questions(
        check,
        entry,
        dict(draft["typed"]),
        frozenset(draft["passed"]),
        str(draft["at"]),
        draft.get("outlasts") is True,
    )


def entry_of(draft: Draft) -> Entry | None:
    """Return the entry of a check that a draft holds, if it holds one."""
    if "entry" not in draft:
        return None
    if draft["entry"]["check"] not in BY_ID:  # a later version may have renamed it
        return None
    return _read(draft)


def _read(draft: Draft) -> Entry:
    """Return the entry of a draft, brought to this schema as a record's entries are."""
    version = draft.get("schema_version", _UNSAID)
    record = upgraded({"schema_version": version, "entries": [draft["entry"]]})
    return Entry.model_validate(record["entries"][0], strict=False)
