"""One visit, walked: draft, entries, states, undo. Each step is on disk before the next."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime
from typing import Any, cast

from checks import codes
from checks.assess import Assessment, Row, assess, trial
from checks.check import (
    STATE_CAUTIONS,
    AnyInput,
    Caution,
    Check,
    CircuitState,
    Measurement,
    Rating,
)
from checks.errors import ChecksError
from checks.intake import BY_ID, check_answer, read_visit
from checks.path import Scope
from checks.record import (
    Category,
    ChargingPoint,
    EnteredState,
    Entry,
    Instrument,
    NotDone,
    NotDoneReason,
    Panel,
    Person,
    Reading,
    SignOff,
    StateEntry,
    Visit,
)
from checks.verdict import Judgement
from fieldapp.store import Seal, Store
from fieldapp.walk import agenda, forms, kit
from fieldapp.walk.drafts import draft_of, key_of, questions_from, with_answer
from fieldapp.walk.numbers import Doubt, doubt, kept
from fieldapp.walk.questions import Questions, reply

Clock = Callable[[], datetime]


class WalkError(ChecksError):
    """A step that the walk does not allow here."""


class Walk:
    """One visit being walked.

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
        self.assessment: Assessment = assess(self.visit, self.code)
        self.point_id: str = stored.draft.get("point", self.visit.points[0].id)
        self.questions: Questions | None = questions_from(stored.draft)
        self._left: dict[str, dict[str, Any]] = dict(stored.draft.get("left", {}))

    # -- where we are --------------------------------------------------------------------------
    @property
    def point(self) -> ChargingPoint:
        """The charging point that is walked."""
        return self.visit.point(self.point_id)

    @property
    def is_signed(self) -> bool:
        """Whether the visit is closed for ever."""
        return self.seal is not None

    @property
    def state(self) -> CircuitState | None:
        """The state this point's circuit was brought into last."""
        return agenda.state_now(self.visit, self.point_id)

    @property
    def steps(self) -> tuple[agenda.Step, ...]:
        """Every check that applies at this point, in order."""
        return agenda.steps(self.visit, self.assessment, self.point)

    @property
    def next_step(self) -> agenda.Step | CircuitState | None:
        """What comes next at this point."""
        return agenda.next_step(self.steps, self.state, must_be_dead=self.must_be_dead)

    @property
    def must_be_dead(self) -> bool:
        """Whether the circuit is live, and something was found that it must not be live with."""
        state = self.state
        if state in (None, CircuitState.DEAD):
            return False
        return not agenda.gate(self.assessment, self.point_id, state).is_open

    @property
    def progress(self) -> tuple[int, int]:
        """How many checks of this point have an entry, and how many apply."""
        found = self.steps
        return sum(s.is_done for s in found), len(found)

    def go_to_point(self, point_id: str) -> None:
        """Walk another charging point."""
        self.visit.point(point_id)
        self._leave()
        self.point_id = point_id
        self._save_draft()

    def add_point(self, form: Entry, panel: str) -> str:
        """Add a charging point from its form; return its id."""
        point_id = _free_id("c", [p.id for p in self.visit.points])
        made = forms.charging_point(form, point_id=point_id, panel=panel, system=self.visit.system)
        self._change(points=(*self.visit.points, made))
        return point_id

    def add_panel(self, form: Entry) -> str:
        """Add a panel from its form; return its id."""
        panel_id = _free_id("p", [p.id for p in self.visit.panels])
        is_service = forms.said(form, "is_service") == "yes"
        made = Panel(id=panel_id, name=forms.said(form, "name"), is_service_equipment=is_service)
        self._change(panels=(*self.visit.panels, made))
        return panel_id

    # -- the circuit's state ---------------------------------------------------------------------
    def enter_state(self, state: CircuitState) -> None:
        """Record that the circuit was brought into a state, its cautions acknowledged.

        Raises
        ------
        WalkError
            Something that must stand first is missing or outside.
        """
        opened = agenda.gate(self.assessment, self.point_id, state)
        if not opened.is_open:
            raise WalkError(
                f"{self.point.name} must not be {state} yet",
                where="circuit state",
                remedy=f"First: {agenda.titles(opened.waiting)}",
            )
        if state is CircuitState.UNDER_LOAD and self.state not in (CircuitState.ENERGISED, state):
            raise WalkError(
                f"{self.point.name} is not energised",
                where="circuit state",
                remedy="Energise it first, and read the volts without load",
            )
        made = StateEntry(
            number=self._next_number(),
            point=self.point_id,
            state=cast(EnteredState, state.value),
            at=self._stamp(),
            cautions=tuple(c.text for c in STATE_CAUTIONS[state]),
        )
        with self._all_or_nothing():
            self._leave()  # what was begun in another state is not gone on with in this one
            self._change(states=(*self.visit.states, made))

    # -- one check ---------------------------------------------------------------------------------
    def begin(self, check_id: str, *, after_mending: bool = False) -> Questions:
        """Open a check at this point; what was begun there before is still there.

        Raises
        ------
        WalkError
            It does not apply here, or the circuit is not in the state that it needs.
        """
        step = self._step(check_id)
        if step is None or step.shut_because:
            why = step.shut_because if step else "does not apply here"
            raise WalkError(
                f"cannot be made now, {why}",
                where=BY_ID[check_id].title,
                remedy="Do first what it waits for",
            )
        if self.questions is None or key_of(self.questions) != f"{check_id}@{step.row.subject}":
            self._leave()
            fresh = Questions(BY_ID[check_id], self._fresh_entry(step))
            self.questions = questions_from(self._left.pop(key_of(fresh), {})) or fresh
        self._keep_entry(after_mending=after_mending or self.questions.entry.after_mending)
        return self._open

    def _step(self, check_id: str) -> agenda.Step | None:
        return next((s for s in self.steps if s.row.check == check_id), None)

    def _fresh_entry(self, step: agenda.Step) -> Entry:
        return Entry(
            number=self._next_number(),
            check=step.row.check,
            subject=step.row.subject,
            at=self._stamp(),
        )

    def _leave(self) -> None:
        """Set the open check aside; what was answered or typed there is there again later."""
        if self.questions is not None:
            self._left[key_of(self.questions)] = draft_of(self.questions)
        self.questions = None

    @property
    def _open(self) -> Questions:
        if self.questions is None:
            raise WalkError("no check is open", where="walk", remedy="Open a check first")
        return self.questions

    @property
    def check(self) -> Check:
        """The check that is open."""
        return self._open.check

    @property
    def awaits_cautions(self) -> tuple[Caution, ...]:
        """The cautions of the open check that were not acknowledged yet."""
        seen = self._open.entry.cautions
        return tuple(c for c in self.check.cautions if c.text not in seen)

    def acknowledge(self) -> None:
        """Record that the cautions of the open check were read."""
        texts = tuple(c.text for c in self.check.cautions)
        self._keep_entry(cautions=texts)

    def instruments_for(self, asked: AnyInput) -> tuple[Instrument, ...]:
        """Return the instruments that are fit for an input; the last one used first."""
        if not isinstance(asked, Measurement) or not asked.instruments:
            return ()
        found = kit.fit(asked, self.visit.instruments, self._volts, self._stamp())
        used = [
            a.instrument
            for e in sorted(self.visit.entries, key=lambda e: -e.number)
            for a in e.answers
            if isinstance(a, Reading)
        ]
        return tuple(sorted(found, key=lambda i: used.index(i.id) if i.id in used else len(used)))

    @property
    def _volts(self) -> int:
        """Nominal volts between the lines where the open check is made. [V]."""
        is_here = self.check.station.scope is Scope.POINT
        return self.point.nominal_v if is_here else self.visit.system.level_2_v

    def answer(
        self, value: str, *, unit: str = "", instrument: str = "", sure: bool = False
    ) -> Doubt | None:
        """Take the answer to the question on the screen.

        Parameters
        ----------
        value : str
            Option, yes or no, words, or digits as `numbers.kept` returned them.
        unit, instrument : str
            For a reading.
        sure : bool
            The technician was asked about a hardly possible number and stands by it.

        Returns
        -------
        Doubt or None
            A question about the number; then nothing was taken yet.

        Raises
        ------
        WalkError
            The cautions were not acknowledged, no fit instrument is there, or no number is typed.
        RecordError
            The answer does not fit the question.
        """
        questions = self._open
        asked = questions.current
        if asked is None:
            return None
        if self.awaits_cautions:
            raise WalkError(
                "its cautions were not acknowledged", where=self.check.title, remedy="Read them"
            )
        if isinstance(asked, Measurement) and asked.instruments:
            self._require_fit(asked, instrument)
        if isinstance(asked, Measurement | Rating):
            if not value or kept(value) != value:
                raise WalkError(
                    "no number is typed", where=asked.label, remedy="Type the digits as they read"
                )
            found = None if sure else doubt(asked, value, unit)
            if found is not None:
                return found
        made = reply(asked, value, at=self._stamp(), unit=unit, instrument=instrument)
        taken = with_answer(questions, asked, made)
        check_answer(self.visit, asked, taken.entry.answer(asked.name) or made, asked.label)
        self.questions = taken
        self._save_draft()
        return None

    def needed_for(self, asked: Measurement) -> str:
        """Say what an instrument must be to be fit for an input."""
        kinds = " or ".join(asked.instruments)
        if asked.category is Category.NONE:
            return f"{kinds} in calibration"
        return f"{kinds} in calibration, {asked.category}, {self._volts} V or more,"

    def _require_fit(self, asked: Measurement, instrument: str) -> None:
        fit = self.instruments_for(asked)
        if instrument in [i.id for i in fit]:
            return
        raise WalkError(
            f"no {self.needed_for(asked)} was named",
            where=asked.label,
            remedy="Add a fit instrument to the kit, or leave the check out with that reason",
        )

    def typing(self, text: str, **chosen: str) -> None:
        """Keep on disk what stands half typed in the field, and what was chosen for it.

        Parameters
        ----------
        text : str
            The digits or words.
        **chosen : str
            ``unit`` and ``instrument`` of a number.
        """
        current = self._open.current
        if current is not None:
            questions = self._open.typing(current.name, text)
            for what, choice in chosen.items():
                questions = questions.typing(f"{current.name} {what}", choice)
            self.questions = questions
            self._save_draft()

    def pass_over(self) -> None:
        """Pass over the optional question on the screen."""
        self.questions = self._open.passed_over()
        self._save_draft()

    def go_to(self, name: str) -> None:
        """Go to one question of the open check; an empty name goes on."""
        self.questions = self._open.go_to(name)
        self._save_draft()

    def back(self) -> bool:
        """Go to the question before; False when this was the first, and the check stays a draft."""
        before = self._open.back()
        if before is None:
            return False
        self.questions = before
        self._save_draft()
        return True

    def note(self, text: str) -> None:
        """Keep the technician's own words with the open check."""
        self._keep_entry(note=text.strip())

    def add_photo(self, data: bytes) -> str:
        """Keep a photo with the open check; return its name."""
        name = self._store.photos.add(data)
        self._keep_entry(photos=(*self._open.entry.photos, name))
        return name

    def preview(self, typed: str = "", unit: str = "", instrument: str = "") -> Judgement:
        """Judge the open check as it stands, with what is half typed taken for an answer.

        The limits are in it before anything is typed.
        """
        questions = self._open
        entry = questions.entry
        asked = questions.current
        if typed and isinstance(asked, Measurement | Rating):
            made = reply(asked, typed, at=entry.at, unit=unit, instrument=instrument)
            entry = with_answer(questions, asked, made).entry
        return trial(self.visit, self.code, entry)

    def commit(self) -> Row:
        """Make the open check an entry of the record; return it judged.

        Raises
        ------
        WalkError
            A question is still open.
        """
        missing = self._open.missing
        if missing:
            raise WalkError(
                f"{missing[0].label!r} has no answer",
                where=self.check.title,
                remedy="Answer it, or leave the whole check out with a reason",
            )
        return self._enter(self._open.entry)

    def leave_out(self, reason: NotDoneReason, text: str = "", *, check_id: str = "") -> Row:
        """Leave a check out with the reason: the open one, or one that may not be made now.

        Raises
        ------
        WalkError
            No check is open and none is named, or it does not apply here.
        """
        left = NotDone(reason=reason, text=text.strip())
        if check_id:
            step = self._step(check_id)
            if step is None:
                raise WalkError(
                    "does not apply here", where=BY_ID[check_id].title, remedy="Nothing is owed"
                )
            entry = self._fresh_entry(step)
        else:
            entry = self._open.entry
        return self._enter(entry.model_copy(update={"answers": (), "not_done": left}))

    def drop(self) -> None:
        """Close the open check without an entry; its answers are given up."""
        self.questions = None
        self._save_draft()

    @property
    def _last(self) -> Entry | StateEntry | None:
        made: list[Entry | StateEntry] = [*self.visit.entries, *self.visit.states]
        return max(made, key=lambda e: e.number, default=None)

    @property
    def last_recorded(self) -> str:
        """What `undo` would take back; empty when there is nothing."""
        last = self._last
        if last is None:
            return ""
        return f"circuit {last.state}" if isinstance(last, StateEntry) else BY_ID[last.check].title

    def undoes(self, number: int) -> bool:
        """Whether `undo` would take back the entry with this number."""
        return self._last is not None and self._last.number == number

    def undo(self) -> str:
        """Take back the last thing recorded; an entry's answers become the open draft again.

        Where a circuit was said to be live and this is taken back, what proved it dead before
        counts no longer: it may have been live.

        Returns
        -------
        str
            What was taken back; empty when there was nothing.
        """
        last = self._last
        if last is None:
            return ""
        taken_back = self.last_recorded
        with self._all_or_nothing():
            self._leave()
            if isinstance(last, StateEntry):
                self.point_id = last.point
                self._change(states=self._states_without(last))
            else:
                self.point_id = self._point_at(last.subject)
                entry = last.model_copy(update={"not_done": None})
                self.questions = Questions(BY_ID[last.check], entry)
                self._change(entries=tuple(e for e in self.visit.entries if e is not last))
        return taken_back

    def _states_without(self, last: StateEntry) -> tuple[StateEntry, ...]:
        """Return the states before the last one; dead again only as newly made, not as proved."""
        states = [s for s in self.visit.states if s is not last]
        mine = [s for s in states if s.point == last.point]
        before = max(mine, key=lambda s: s.number, default=None)
        if before is not None and before.state == CircuitState.DEAD.value != last.state:
            states[states.index(before)] = before.model_copy(update={"number": last.number})
        return tuple(states)

    def _point_at(self, subject: str) -> str:
        """Return the point to walk for what was recorded at a subject: this one where it fits."""
        here = (self.point, *self.visit.points)
        return next((p.id for p in here if subject in (p.id, p.panel)), self.point_id)

    def name_technician(self, technician: Person) -> None:
        """Name who does the work, where the visit was begun without a name."""
        self._change(technician=technician)

    def sign_off(self, signoff: SignOff) -> None:
        """Record the drawn signature and what a person decided; the report is signed after it."""
        self._change(signoff=signoff)

    # -- on disk ---------------------------------------------------------------------------------
    def _enter(self, entry: Entry) -> Row:
        if entry.not_done is None and self.awaits_cautions:
            raise WalkError(
                "its cautions were not acknowledged", where=self.check.title, remedy="Read them"
            )
        made = entry.model_copy(update={"number": self._next_number(), "at": self._stamp()})
        with self._all_or_nothing():
            self.questions = None
            self._change(entries=(*self.visit.entries, made))
        return self.assessment.row(made.check, made.subject)

    @contextmanager
    def _all_or_nothing(self) -> Iterator[None]:
        """Put everything back as it was when a change could not be saved."""
        before = self.questions, self.point_id, dict(self._left)
        try:
            yield
        except ChecksError:
            self.questions, self.point_id, self._left = before
            raise

    def _keep_entry(self, **changed: object) -> None:
        entry = self._open.entry.model_copy(update=changed)
        self.questions = Questions(
            self._open.check, entry, self._open.typed, self._open.passed, self._open.at
        )
        self._save_draft()

    def _change(self, **changed: object) -> None:
        """Save a changed record, through the same door as one from outside."""
        changed["revision"] = self.visit.revision + 1
        changed.setdefault("signoff", None)  # a change after it needs a new one
        document = self.visit.model_copy(update=changed).model_dump(mode="json")
        visit = read_visit(document)
        self._store.save(document, draft=self._draft())
        self.visit = visit
        self.assessment = assess(visit, self.code)

    def _save_draft(self) -> None:
        self._store.save_draft(self.visit.id, self._draft())

    def _draft(self) -> dict[str, Any]:
        draft: dict[str, Any] = {"point": self.point_id, "left": self._left}
        if self.questions is not None:
            draft |= draft_of(self.questions)
        return draft

    def _next_number(self) -> int:
        made: list[Entry | StateEntry] = [*self.visit.entries, *self.visit.states]
        return 1 + max((e.number for e in made), default=0)

    def _stamp(self) -> str:
        return self._now().isoformat(timespec="seconds")


def _free_id(prefix: str, taken: list[str]) -> str:
    number = 1 + len(taken)
    while f"{prefix}{number}" in taken:
        number += 1
    return f"{prefix}{number}"
