"""The desk: settings, the kit, the list of visits, the forms, and where the app was."""

import secrets
from dataclasses import dataclass
from typing import Annotated, Any, Final, Literal, TypedDict

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from checks import codes
from checks.assess import SOFTWARE, Assessment, assess
from checks.check import AnyInput, Check
from checks.errors import ChecksError
from checks.intake import read_visit
from checks.record import Answer, Entry, Instrument, Person, Visit
from checks.trends import PointTrend, Reinspection, Seen, reinspections, trends
from checks.verdict import Verdict
from fieldapp.language import ENGLISH
from fieldapp.store import Listing, MadeBy, Seal, Store, Stored, record_sha256
from fieldapp.theme import MAX_TEXT_SCALE
from fieldapp.walk import forms
from fieldapp.walk.drafts import draft_of, resumed
from fieldapp.walk.history import earlier_visits
from fieldapp.walk.kit import GENERIC_KIT
from fieldapp.walk.questions import Questions, reply
from fieldapp.walk.visit import Clock, Walk

_SUMMARY: Final = 3  # raised with every change of what `summary` returns

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


class _New(TypedDict):
    visit_id: str
    started: str
    technician: Person


@dataclass(frozen=True)
class Position:
    """Which screen was open, on which visit and what of it."""

    screen: str = "visits"
    visit: str = ""
    of: str = ""


class Desk:
    """Everything outside one visit.

    Parameters
    ----------
    store : Store
        Where all is kept.
    now : callable
        The clock: an aware datetime.
    """

    def __init__(self, store: Store, now: Clock) -> None:
        self.store, self.now = store, now
        state = store.app_state.load()
        kept = state.get("settings", {})
        # what only another version of the app sets keeps nobody out
        known = {k: v for k, v in kept.items() if k in Settings.model_fields}
        self.settings = Settings.model_validate(known, strict=False)
        self.position = Position(**state.get("position", {}))
        self._forms: dict[str, dict[str, Any]] = dict(state.get("forms", {}))
        self._earlier: dict[str, tuple[Seen, ...]] = {}  # of the visit that is open, read once

    def set(self, **changed: object) -> None:
        """Change settings, on disk at once."""
        self.settings = Settings.model_validate(
            self.settings.model_copy(update=changed).model_dump(), strict=False
        )
        self._save()

    def go(self, screen: str, visit: str = "", of: str = "") -> None:
        """Remember which screen is open."""
        self.position = Position(screen, visit, of)
        self._save()

    def _save(self) -> None:
        self.store.app_state.save(
            {
                "settings": self.settings.model_dump(mode="json"),
                "position": vars(self.position),
                "forms": self._forms,
            }
        )

    # -- forms -----------------------------------------------------------------------------------
    def form(self, check: Check) -> Questions:
        """Return a form with what was answered so far, kept from the last time if it was left."""
        kept = self._forms.get(check.id)
        if kept is None:
            at = self.now().isoformat(timespec="seconds")
            return Questions(check, Entry(number=1, check=check.id, subject="form", at=at))
        return resumed(check, kept)

    def keep_form(self, questions: Questions) -> None:
        """Keep a half-answered form on disk."""
        self._forms[questions.check.id] = draft_of(questions)
        self._save()

    def clear_form(self, check: Check) -> None:
        """Forget a form."""
        self._forms.pop(check.id, None)
        self._save()

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
        visit = forms.begun(begin, point, **self._new())
        return self._keep(visit, is_invented=is_invented)

    def begin_again(self, earlier_id: str) -> Walk:
        """Make another visit to the site of a stored one, from the form for it.

        Raises
        ------
        NotReadyError
            A question of the form is still open.
        """
        earlier = read_visit(self.store.load(earlier_id).visit)
        visit = forms.begun_again(self._whole(forms.AGAIN), earlier, **self._new())
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
        visit = forms.begun_again(
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
        self._save()
        return self.open(made.id)

    def open(self, visit_id: str) -> Walk:
        """Open a visit to walk it."""
        return Walk(self.store, visit_id, self.now)

    def trends(self, walk: Walk) -> tuple[PointTrend, ...]:
        """Say what changed since earlier signed visits to the site of an open visit."""
        return trends(Seen(walk.visit, walk.assessment), self._earlier_of(walk.visit))

    def reinspections(self, walk: Walk) -> tuple[Reinspection, ...]:
        """Say what became of the findings that earlier signed visits to this site left open."""
        return reinspections(Seen(walk.visit, walk.assessment), self._earlier_of(walk.visit))

    def _earlier_of(self, visit: Visit) -> tuple[Seen, ...]:
        """Return the earlier signed visits to the site of an open visit, read once."""
        if visit.id not in self._earlier:
            self._earlier = {visit.id: earlier_visits(self.store, self.visits(), visit)}
        return self._earlier[visit.id]

    def visits(self) -> Listing:
        """List all visits with their summaries."""
        return self.store.listing(summary, MadeBy(form=f"summary {_SUMMARY}", software=SOFTWARE))


def summary(stored: Stored) -> dict[str, Any]:
    """Return the few words and counts that a list of visits shows; of a signed one as signed."""
    visit = read_visit(stored.visit)
    found = _as_signed(stored.seal) or assess(visit, codes.profile(visit.code))
    return {
        "site": visit.site.name,
        "address": visit.site.address,
        "kind": visit.kind.value,
        "started": visit.started,
        "is_invented": visit.is_invented,
        "is_signed": stored.seal is not None,
        "verdict": found.verdict.value,
        "outside": sum(f.row.judgement.verdict is Verdict.OUTSIDE for f in found.findings),
        "borderline": sum(f.row.judgement.verdict is Verdict.BORDERLINE for f in found.findings),
        "unfinished": len(found.unfinished),
        "findings": sorted({f.row.title for f in found.findings}),
    }


def _as_signed(seal: Seal | None) -> Assessment | None:
    """Return the assessment in a seal; none in one that another program or an old version made."""
    if seal is None:
        return None
    try:
        return Assessment.model_validate(seal.content.get("assessment"), strict=False)
    except ValidationError:
        return None


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
