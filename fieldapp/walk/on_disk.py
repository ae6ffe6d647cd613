"""A visit on disk: its record and what stands half done, each step there before the next."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from checks import codes
from checks.assess import Assessment, Assessor
from checks.check import Check, Situation
from checks.errors import ChecksError
from checks.intake import BY_ID, read_visit
from checks.record import (
    ChargingPoint,
    Correction,
    Entry,
    Instrument,
    Panel,
    Person,
    Reading,
    Readings,
    SignOff,
    StateEntry,
    Visit,
    own_words,
)
from fieldapp.store.sealing import Seal
from fieldapp.store.visits import Store
from fieldapp.walk import filled, forms
from fieldapp.walk.drafts import (
    Taken,
    draft_of,
    entry_of,
    key_of,
    resumed,
    taken_of,
)
from fieldapp.walk.kit import MOST
from fieldapp.walk.ledger import Clock
from fieldapp.walk.own_names import next_name, require_own_names
from fieldapp.walk.questions import Questions
from fieldapp.walk.refused import WalkError
from fieldapp.walk.unreadable import sifted, title_of


def danger_unfinished(begun: Entry) -> WalkError:
    """Return what refuses to go on while a check in which a danger was answered is not made."""
    return WalkError(
        "a danger was found, and its check is not finished",
        where=BY_ID[begun.check].title,
        remedy="Finish the check, or change the answer if it was a slip",
    )


class VisitOnDisk:
    """A visit as it is kept: every change goes through the same door as a record from outside.

    Parameters
    ----------
    store : Store
        Where it is kept.
    visit_id : str
        Which visit.
    now : callable
        The clock: an aware datetime.
    """

    def __init__(self, store: Store, visit_id: str, now: Clock) -> None:
        self._store, self._now = store, now
        stored = store.load(visit_id)
        self.visit: Visit = read_visit(stored.visit)
        self.seal: Seal | None = stored.seal
        self.code = codes.profile(self.visit.code)
        self._assessor = Assessor(self.code)
        self.assessment: Assessment = self._assessor.assess(self.visit)
        draft, self._unread = sifted(stored.draft, self._begun)
        here = [p.id for p in self.visit.points]
        self.point_id: str = draft["point"] if draft.get("point") in here else here[0]
        self.questions: Questions | None = self._begun(draft)
        self.awaits_photo: str = str(draft.get("photo", ""))  # whose, while one is taken
        self._left: dict[str, dict[str, Any]] = draft["left"]
        self._taken: tuple[Taken, ...] = tuple(map(taken_of, draft["taken"]))
        self._aside: tuple[dict[str, Any], ...] = (*draft["aside"], *self._unread)

    @property
    def point(self) -> ChargingPoint:
        """The charging point that is walked."""
        return self.visit.point(self.point_id)

    @property
    def is_signed(self) -> bool:
        """Whether the visit is closed for ever."""
        return self.seal is not None

    @property
    def own_words(self) -> frozenset[str]:
        """What in the record is a person's own words."""
        return own_words(self.visit)

    # -- what is installed, and who decides ------------------------------------------------------
    def add_point(self, form: Entry, panel: str) -> str:
        """Add a charging point from its form; return its id."""
        point_id = self._free_id("c")
        made = filled.charging_point(form, point_id=point_id, panel=panel, system=self.visit.system)
        self._change(points=(*self.visit.points, made))
        return point_id

    def point_at(self, subject: str) -> str:
        """Return the point to walk for what was recorded at a subject: this one where it fits."""
        here = (self.point, *self.visit.points)
        return next((p.id for p in here if subject in (p.id, p.panel)), self.point_id)

    def copy_point(self, point_id: str) -> str:
        """Add a charging point like another, with the next free name; return its id.

        What is installed is copied, no entry is; which vehicle is there is asked.
        """
        like = filled.with_no_vehicle_asked(self.visit.point(point_id))
        made_id = self._free_id("c")
        taken = {p.name for p in self.visit.points} | {t.name for t in self._taken}
        name = next_name(like.name, taken)
        made = like.model_copy(update={"id": made_id, "name": name})
        self._change(points=(*self.visit.points, made))
        return made_id

    def add_panel(self, form: Entry) -> str:
        """Add a panel from its form; return its id."""
        panel_id = self._free_id("p")
        is_service = forms.said(form, "is_service") == "yes"
        made = Panel(id=panel_id, name=forms.said(form, "name"), is_service_equipment=is_service)
        self._change(panels=(*self.visit.panels, made))
        return panel_id

    def require_free_name(self, form: str, name: str) -> None:
        """Refuse a name, before it stands in a form, that another panel or point has already.

        Raises
        ------
        NameTakenError
            Another is called so.
        """
        visit, of = self.visit, "panels" if form == forms.PANEL.id else "points"
        named = getattr(visit, of)[0].model_copy(update={"name": name})
        require_own_names(visit, visit.model_copy(update={of: (*getattr(visit, of), named)}))

    def _free_id(self, prefix: str) -> str:
        """Return an id that nothing has or had: what was taken away may be put back."""
        used = {p.id for p in self.visit.panels} | {p.id for p in self.visit.points}
        for each in self._taken:
            used |= {p.id for p in each.panels} | {p.id for p in each.points}
        number = 1 + sum(each.startswith(prefix) for each in used)
        while f"{prefix}{number}" in used:
            number += 1
        return f"{prefix}{number}"

    def take_instruments(self, instruments: tuple[Instrument, ...]) -> None:
        """Take new or corrected instruments; what was read with them is judged anew.

        Raises
        ------
        WalkError
            A reading was taken with one that is no longer there, or there are too many.
        """
        there = {i.id for i in instruments}
        gone = next((i for i in self.visit.instruments if i.id in self.used - there), None)
        if gone is not None or len(instruments) > MOST:
            raise WalkError(
                "a reading was taken with it" if gone else f"more than {MOST} are too many",
                where=gone.name if gone else "instruments",
                remedy="Keep it, and correct what is wrong about it"
                if gone
                else "Leave some at home",
            )
        self._change(instruments=instruments)

    @property
    def used(self) -> frozenset[str]:
        """The instruments that readings of this visit name, those of half-made checks too."""
        entries = (*self.visit.entries, *(each.entry for each in self.half_made))
        answers = [a for e in entries for a in e.answers]
        series = [r for a in answers if isinstance(a, Readings) for r in a.readings]
        readings = (*(a for a in answers if isinstance(a, Reading)), *series)
        return frozenset(r.instrument for r in readings if r.instrument is not None)

    def name_technician(self, technician: Person) -> None:
        """Name who does the work, where the visit was begun without a name."""
        self._change(technician=technician)

    def sign_off(self, signoff: SignOff) -> None:
        """Record the drawn signature and what a person decided; the report is signed after it."""
        self._change(signoff=signoff)

    # -- what is asked here ------------------------------------------------------------------------
    def declared(self, entry: Entry) -> Check:
        """Return an entry's check, with the inputs that this installation has something for."""
        return BY_ID[entry.check].at(Situation(self.visit, self.code, entry.subject))

    def _begun(self, draft: dict[str, Any]) -> Questions | None:
        """Return the check that a draft holds, if it holds one that is known still."""
        entry = entry_of(draft)
        if entry is None:
            return None
        return resumed(self.declared(entry), draft).without_unasked()

    @property
    def unread(self) -> WalkError | None:
        """What stood half made and cannot be read: kept aside in the visit's file, to be told."""
        if not self._unread:
            return None
        titles = "; ".join(dict.fromkeys(map(title_of, self._unread)))
        return WalkError(
            f"what was half made there cannot be read: {titles}",
            where="Half-made checks",
            remedy="Make it again; what it was is kept aside in the visit's file",
        )

    @property
    def half_made(self) -> tuple[Questions, ...]:
        """The checks that were begun and are no entry yet, the open one first.

        None of it is in the record yet.
        """
        begun = (self.questions, *map(self._begun, self._left.values()))
        return tuple(each for each in begun if each is not None and each.is_begun)

    @property
    def dangers_begun(self) -> tuple[Entry, ...]:
        """Those of them in which a danger was answered: it stands all the same."""
        entries = (each.entry for each in self.half_made)
        return tuple(entry for entry in entries if entry.danger is not None)

    # -- what is left half done --------------------------------------------------------------------
    def _leave(self) -> None:
        """Set the open check aside; what was answered or typed there is there again later."""
        if self.questions is not None:
            self._left[key_of(self.questions)] = draft_of(self.questions)
        self.questions = None

    def _take_up(self, fresh: Questions) -> Questions:
        """Open a check: with what was begun of it and set aside, else as it is asked anew."""
        self._leave()
        self.questions = self._begun(self._left.pop(key_of(fresh), {})) or fresh
        return self.questions

    def _save_draft(self) -> None:
        self._store.save_draft(self.visit.id, self._draft())

    def _draft(self) -> dict[str, Any]:
        draft: dict[str, Any] = {"point": self.point_id, "left": self._left}
        if self.awaits_photo:
            draft["photo"] = self.awaits_photo
        if self._aside:
            draft["aside"] = list(self._aside)
        if self._taken:
            draft["taken"] = [each.draft for each in self._taken]
        if self.questions is not None:
            draft |= draft_of(self.questions)
        return draft

    # -- changes -----------------------------------------------------------------------------------
    def _change(self, **changed: object) -> None:
        """Save a changed record, through the same door as one from outside, once it is judged."""
        changed["revision"] = self.visit.revision + 1
        changed.setdefault("signoff", None)  # a change after it needs a new one
        document = self.visit.model_copy(update=changed).model_dump(mode="json")
        visit = read_visit(document)
        require_own_names(self.visit, visit)
        is_same_code = visit.code == self.visit.code
        code = self.code if is_same_code else codes.profile(visit.code)
        assessor = self._assessor if is_same_code else Assessor(code)
        assessment = assessor.assess(visit)  # what cannot be judged is not left on disk
        self._store.save(document, draft=self._draft())
        self.code, self._assessor = code, assessor
        self.visit, self.assessment = visit, assessment

    @contextmanager
    def _all_or_nothing(self) -> Iterator[None]:
        """Put everything back as it was when a change could not be saved."""
        before = self.questions, self.point_id, dict(self._left), self._taken
        try:
            yield
        except ChecksError:
            self.questions, self.point_id, self._left, self._taken = before
            raise

    def _next_number(self) -> int:
        return 1 + max((made.number for made in self._made), default=0)

    @property
    def _made(self) -> tuple[Entry | StateEntry | Correction, ...]:
        """All that was recorded, numbered in one row."""
        return (*self.visit.entries, *self.visit.states, *self.visit.corrections)

    def _stamp(self) -> str:
        return self._now().isoformat(timespec="seconds")
