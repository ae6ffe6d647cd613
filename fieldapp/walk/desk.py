"""The desk: settings, the kit, the forms, and the visits that are made from them."""

import secrets
from contextlib import suppress
from typing import Annotated, Any, Final, Literal, TypedDict

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from checks.check import AnyInput, Check
from checks.errors import ChecksError
from checks.intake import read_visit
from checks.record import Answer, Entry, Instrument, Person, Visit
from checks.trends import (
    Called,
    PointTrend,
    Reinspection,
    Seen,
    called,
    reinspections,
    trends,
)
from fieldapp.language import ENGLISH
from fieldapp.store.app_state import CHOOSE_AGAIN
from fieldapp.store.errors import DamagedError
from fieldapp.store.sealing import record_sha256
from fieldapp.theme import MAX_TEXT_SCALE
from fieldapp.walk import filled, forms
from fieldapp.walk.drafts import draft_of, resumed
from fieldapp.walk.history import earlier_visits
from fieldapp.walk.kit import GENERIC_KIT
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.questions import Questions, reply
from fieldapp.walk.visit import Walk

FORMS: Final[dict[str, Check]] = {
    f.id: f
    for f in (
        forms.BEGIN,
        forms.POINT,
        forms.PANEL,
        forms.AGAIN,
        forms.AMEND,
        forms.SIGN_OFF,
    )
}


class Settings(BaseModel):
    """What the technician set once.

    Parameters
    ----------
    technician : Person
        Who signs.
    instruments : tuple of Instrument
        The kit that new visits start with.
    theme : str
        Day, night or outdoor.
    text_scale : float
        Factor on the text, 1 to `fieldapp.theme.MAX_TEXT_SCALE`. [unitless]
    is_customary : bool
        Feet, pounds and degrees Fahrenheit are offered first.
    language : str
        What screens and reports speak, one of `fieldapp.language.LANGUAGES`.
    """

    model_config = ConfigDict(frozen=True, extra="forbid")

    technician: Person = Person(name="")
    instruments: tuple[Instrument, ...] = GENERIC_KIT
    theme: str = "day"
    text_scale: Annotated[float, Field(ge=1.0, le=MAX_TEXT_SCALE)] = 1.0
    is_customary: bool = False
    language: Literal["en", "fr", "es"] = ENGLISH


_CALLED: Final = {
    "technician": "technician",
    "instruments": "instruments",
    "theme": "light",
    "text_scale": "text size",
    "is_customary": "units",
    "language": "language",
}


class _New(TypedDict):
    visit_id: str
    started: str
    technician: Person


class Desk:
    """Settings, forms, and the making of visits: everything outside one visit that takes the trade.

    Parameters
    ----------
    ledger : Ledger
        The visits, and where settings and forms are kept.

    Raises
    ------
    DamagedError
        The settings hold what no setting can be.
    """

    def __init__(self, ledger: Ledger) -> None:
        self.ledger, self.store, self.now = ledger, ledger.store, ledger.now
        self.settings = _settings(ledger.kept("settings"))
        self._forms: dict[str, dict[str, Any]] = ledger.kept("forms")
        # of the visit that is open, by what its site is and was called
        self._earlier: dict[tuple[str, Called], tuple[Seen, ...]] = {}
        self._again: tuple[Visit, tuple[Reinspection, ...]] | None = None  # of the record as it is

    def set(self, **changed: object) -> None:
        """Change settings, on disk at once."""
        self.settings = Settings.model_validate(
            self.settings.model_copy(update=changed).model_dump(), strict=False
        )
        self.ledger.keep(settings=self.settings.model_dump(mode="json"))

    # -- forms -----------------------------------------------------------------------------------
    def form(self, check: Check) -> Questions:
        """Return a form with what was answered so far, kept from the last time if it was left."""
        kept = self._forms.get(check.id)
        if isinstance(kept, dict):
            # what no form can be is no answer that anybody gave: it is asked for anew
            with suppress(ValueError, KeyError, TypeError):
                return resumed(check, kept)
        at = self.now().isoformat(timespec="seconds")
        return Questions(check, Entry(number=1, check=check.id, subject="form", at=at))

    def answering(self, check: Check, stands: str) -> Questions:
        """Return a form of one question with the answer that stands; it is not kept."""
        asked, at = check.inputs[0], self.now().isoformat(timespec="seconds")
        answers = (reply(asked, stands, at=at),) if stands else ()
        entry = Entry(number=1, check=check.id, subject="form", at=at, answers=answers)
        return Questions(check, entry, at=asked.name)

    def keep_form(self, questions: Questions) -> None:
        """Keep a half-answered form on disk."""
        self._forms[questions.check.id] = draft_of(questions)
        self.ledger.keep(forms=self._forms)

    def clear_form(self, check: Check) -> None:
        """Forget a form."""
        self._forms.pop(check.id, None)
        self.ledger.keep(forms=self._forms)

    def answer_form(self, questions: Questions, value: str) -> Questions:
        """Take the answer to a form's question on the screen, and keep it."""
        asked: AnyInput | None = questions.current
        if asked is None:
            return questions
        made: Answer = reply(asked, value, at=self.now().isoformat(timespec="seconds"))
        taken = questions.answered(made)
        self.keep_form(taken)
        return taken

    # -- visits ----------------------------------------------------------------------------------
    def begin_visit(self, *, is_invented: bool = False) -> Walk:
        """Make a visit from the two answered forms, and clear them.

        Raises
        ------
        NotReadyError
            A question of a form is still open.
        """
        begin, point = self._whole(forms.BEGIN), self._whole(forms.POINT)
        visit = filled.begun(begin, point, **self._new())
        return self._keep(visit, is_invented=is_invented)

    def begin_again(self, earlier_id: str) -> Walk:
        """Make another visit to the site of a stored one, from the form for it.

        Raises
        ------
        NotReadyError
            A question of the form is still open.
        """
        earlier = read_visit(self.store.load(earlier_id).visit)
        visit = filled.begun_again(self._whole(forms.AGAIN), earlier, **self._new())
        return self._keep(visit, is_invented=earlier.is_invented)

    def amend(self, signed_id: str) -> Walk:
        """Make a visit that amends a signed one, from the form for it; the signed stays closed.

        Raises
        ------
        NotReadyError
            The visit is not signed, or a question of the form is still open.
        """
        stored = self.store.load(signed_id)
        if stored.seal is None:
            raise NotReadyError(
                "is not signed", where="visit", remedy="Go on with it: it is still open"
            )
        earlier = read_visit(stored.visit)
        visit = filled.begun_again(
            self._whole(forms.AMEND), earlier, **self._new(), amends=record_sha256(stored.visit)
        )
        return self._keep(visit, is_invented=earlier.is_invented)

    def _whole(self, check: Check) -> Entry:
        """Return a form's answers when none is missing."""
        form = self.form(check)
        if form.missing:
            raise NotReadyError(
                f"{form.missing[0].label!r} has no answer",
                where=check.title,
                remedy="Answer it first; all other answers are kept",
            )
        return form.entry

    def _new(self) -> _New:
        started = self.now()
        return {
            "visit_id": f"v{started:%Y%m%d-%H%M%S}-{secrets.token_hex(3)}",
            "started": started.isoformat(timespec="seconds"),
            "technician": self.settings.technician,
        }

    def _keep(self, visit: Visit, *, is_invented: bool) -> Walk:
        made = visit.model_copy(
            update={"instruments": self.settings.instruments, "is_invented": is_invented}
        )
        document = made.model_dump(mode="json")
        read_visit(document)
        self.store.save(document)
        self._forms = {k: v for k, v in self._forms.items() if k == forms.PANEL.id}
        self.ledger.keep(forms=self._forms)
        return self.open(made.id)

    def open(self, visit_id: str) -> Walk:
        """Open a visit to walk it."""
        return Walk(self.store, visit_id, self.now)

    def trends(self, walk: Walk) -> tuple[PointTrend, ...]:
        """Say what changed since earlier signed visits to the site of an open visit."""
        return trends(Seen(walk.visit, walk.assessment), self._earlier_of(walk.visit))

    def reinspections(self, walk: Walk) -> tuple[Reinspection, ...]:
        """Say what became of the findings that earlier signed visits to this site left open."""
        visit = walk.visit
        if self._again is None or self._again[0] is not visit:  # a changed record is another object
            found = reinspections(Seen(visit, walk.assessment), self._earlier_of(visit))
            self._again = visit, found
        return self._again[1]

    def _earlier_of(self, visit: Visit) -> tuple[Seen, ...]:
        """Return the earlier signed visits to the site of an open visit, read once."""
        key = visit.id, called(visit)
        if key not in self._earlier:
            self._earlier = {key: earlier_visits(self.store, self.ledger.visits(), visit)}
        return self._earlier[key]


def _settings(kept: dict[str, Any]) -> Settings:
    # what only another version of the app sets keeps nobody out
    known = {k: v for k, v in kept.items() if k in Settings.model_fields}
    try:
        return Settings.model_validate(known, strict=False)
    except ValidationError as error:
        wrong = sorted({_CALLED[str(e["loc"][0])] for e in error.errors()})
        raise DamagedError(
            f"these cannot be used: {', '.join(wrong)}", where="settings", remedy=CHOOSE_AGAIN
        ) from error


class NotReadyError(ChecksError):
    """Something must be entered first."""


def require_technician(technician: Person) -> None:
    """Refuse to sign for nobody.

    Raises
    ------
    NotReadyError
        The record names no technician.
    """
    if not technician.name.strip():
        raise NotReadyError(
            "nobody is named who signs",
            where="technician",
            remedy="Enter your name and license number first",
        )
