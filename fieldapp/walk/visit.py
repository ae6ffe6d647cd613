"""One visit, walked: states, entries, undo."""

from typing import Final, cast

from checks.assess import Row
from checks.check import REPAIR, CircuitState
from checks.intake import BY_ID
from checks.path import subjects_at
from checks.record import (
    EnteredState,
    Entry,
    NotDone,
    NotDoneReason,
    StateEntry,
)
from checks.verdict import Severity
from fieldapp.walk import agenda, circuit
from fieldapp.walk.drafts import key_of
from fieldapp.walk.evidence import Evidence
from fieldapp.walk.half_made import REPLACED, left_out_note
from fieldapp.walk.numbers import Doubt
from fieldapp.walk.on_disk import danger_unfinished
from fieldapp.walk.open_series import OpenSeries
from fieldapp.walk.questions import NOTE, Questions
from fieldapp.walk.refused import WalkError
from fieldapp.walk.switching import Switching, switching
from fieldapp.walk.undoing import Undoing
from fieldapp.walk.words import added_to, worded

UNREAD_DANGER: Final = (
    "A danger was found here, and what told of it is not there any more. It was answered"
)
PART_REPLACED: Final = "The rest was left out: the part was replaced."

__all__ = ["Walk", "WalkError"]


class Walk(Evidence, OpenSeries, Undoing):
    """One visit being walked; see `VisitOnDisk` for what it is made from."""

    # -- which point ----------------------------------------------------------------------------
    def go_to_point(self, point_id: str) -> None:
        """Walk another charging point."""
        self.visit.point(point_id)
        with self._all_or_nothing():
            self._leave()
            self.point_id = point_id
            if not self.is_signed:  # that is read, and nothing more is kept of it
                self._save_draft()

    # -- the circuit's state ---------------------------------------------------------------------
    def switching(self, state: CircuitState) -> Switching:
        """Return how this person brings this point's circuit into a state, or finds it there."""
        return switching(state, before=self.state, opens=self.visit.role.opens)

    def enter_state(
        self, state: CircuitState, *, brought_by: str = "", is_found: bool = False
    ) -> None:
        """Record that the circuit was brought into a state, its cautions acknowledged.

        Parameters
        ----------
        state : CircuitState
            The state.
        brought_by : str
            Who brought it there or allows it, where that is asked.
        is_found : bool
            It was so already.

        Raises
        ------
        WalkError
            Something that must stand first is missing or outside, or nobody is named who did it, or
            with too many words.
        """
        self._require_open(state)
        how = self.switching(state)
        named = worded(brought_by, how.title)
        if how.whom and not named:
            raise WalkError("nobody is named", where=how.title, remedy=how.whom)
        made = StateEntry(
            number=self._next_number(),
            point=self.point_id,
            state=cast(EnteredState, state.value),
            at=self._stamp(),
            brought_by=named,
            is_found=is_found,
            cautions=tuple(c.text for c in how.cautions),
        )
        with self._all_or_nothing():
            self._leave()  # what was begun in another state is not gone on with in this one
            self._change(states=(*self.visit.states, made))

    def _require_open(self, state: CircuitState) -> None:
        here = subjects_at(self.point).values()
        begun = [e for e in self.dangers_begun if e.subject in here]
        if begun and state is not CircuitState.DEAD:
            raise danger_unfinished(begun[0])
        if state is not CircuitState.DEAD and self.state is not CircuitState.UNDER_LOAD:
            self._require_hands_off()
        opened = circuit.gate(self.assessment, self.point_id, state)
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

    def _require_hands_off(self) -> None:
        begun = self.keeps_dead
        if begun is not None:
            title = BY_ID[begun.check].title
            is_beside = begun.subject not in (self.point_id, self.point.panel)
            raise WalkError(
                "it is begun and not finished: hands may be there yet, or a conductor is off",
                where=f"{title}, {self.visit.name_of(begun.subject)}" if is_beside else title,
                remedy="Finish it first, or leave it out with the reason",
            )

    def go_without(self, state: CircuitState, reason: NotDoneReason, text: str) -> None:
        """Leave out, each with the reason, what waits for a state that is not to be had here."""
        reached = agenda.ORDER.index(state)
        waiting = [
            s.row.check
            for s in self.steps
            if not s.is_done and agenda.ORDER.index(s.row.state) >= reached
        ]
        for check in waiting:
            self.leave_out(reason, text, check_id=check)

    # -- one check ---------------------------------------------------------------------------------
    def begin(self, check_id: str, *, after_mending: bool = False) -> Questions:
        """Open a check at this point; what was begun there before is still there.

        Raises
        ------
        WalkError
            It does not apply here, or the circuit is not in the state that it needs.
        """
        step = self._require_step(check_id)
        made = next((e for e in self.visit.entries if e.number == step.row.entry), None)
        is_mended = after_mending or (made is not None and made.after_mending)
        has_repair = any(e.check == REPAIR for e in self.visit.entries)
        is_mended |= has_repair and step.row.is_owed_again
        with self._all_or_nothing():
            if self.questions is None or key_of(self.questions) != f"{check_id}@{step.row.subject}":
                self._take_up(self._fresh(step))
            self._keep_entry(after_mending=is_mended or self.open_questions.entry.after_mending)
        return self.open_questions

    def answer(
        self, value: str, *, unit: str = "", instrument: str = "", sure: bool = False
    ) -> Doubt | None:
        """Take the answer to the question on the screen, while its check may be made."""
        self._require_step(self.check.id)
        return super().answer(value, unit=unit, instrument=instrument, sure=sure)

    def _require_step(self, check_id: str) -> agenda.Step:
        """Return the step of a check that may be made now.

        One that a danger ended is entered in whatever state the circuit is: nothing more is read.
        """
        step = self._step(check_id)
        why = "does not apply here" if step is None else step.shut_because
        if step is None or (why and not self._is_ended(step)):
            raise WalkError(
                f"cannot be made now, {why}",
                where=BY_ID[check_id].title,
                remedy="Do first what it waits for",
            )
        return step

    def _is_ended(self, step: agenda.Step) -> bool:
        key = f"{step.row.check}@{step.row.subject}"
        begun = (q for q in self.half_made if key_of(q) == key)
        return any(q.entry.danger is not None and not q.missing for q in begun)

    def commit(self) -> Row:
        """Make the open check an entry of the record; return it judged.

        Raises
        ------
        WalkError
            A question is still open, or the note is too long.
        """
        missing = self.open_questions.missing
        if missing:
            raise WalkError(
                f"{missing[0].label!r} has no answer",
                where=self.check.title,
                remedy="Answer it, or leave the whole check out with a reason",
            )
        self._require_note()
        return self._enter(self.open_questions.entry)

    def leave_out(self, reason: NotDoneReason, text: str = "", *, check_id: str = "") -> Row:
        """Leave a check out with the reason: the open one, or one that may not be made now.

        Raises
        ------
        WalkError
            No check is open and none is named, or it does not apply here, or the words are too
            long.
        """
        left = NotDone(reason=reason, text=worded(text, "Leave it out"))
        with self._all_or_nothing():
            if check_id and not self.is_open(check_id):
                step = self._step(check_id)
                if step is None:
                    raise WalkError(
                        "does not apply here", where=BY_ID[check_id].title, remedy="Nothing is owed"
                    )
                self._take_up(self._fresh(step))
            self._require_note()
            return self._enter(self._left_out(left))

    def _left_out(self, left: NotDone) -> Entry:
        """Return the open check left out, with what was begun of it; a danger that is told stands.

        One that no answer tells of is no finding: its note says that it was found.
        """
        begun = self.open_questions
        entry = begun.entry
        if entry.danger is not None and self.preview().severity is Severity.DANGER:
            words = ": ".join(filter(None, (f"The rest was left out, {left.reason}", left.text)))
            note = added_to(entry.note, worded(words, "Leave it out"), begun.check.title)
            return entry.model_copy(update={"note": note})
        danger = "" if entry.danger is None else f"{UNREAD_DANGER}: {entry.danger}."
        note = left_out_note(begun, danger)
        return entry.model_copy(update={"answers": (), "note": note, "not_done": left})

    def _fresh(self, step: agenda.Step) -> Questions:
        entry = Entry(
            number=self._next_number(),
            check=step.row.check,
            subject=step.row.subject,
            at=self._stamp(),
        )
        return Questions(self.declared(entry), entry)

    def _enter(self, entry: Entry) -> Row:
        """Make the open check an entry; a danger that was found goes in whatever stands here."""
        if entry.not_done is None and entry.danger is None:
            if self.awaits_cautions:
                raise WalkError(
                    "its cautions were not acknowledged", where=self.check.title, remedy="Read them"
                )
            self._require_options(entry)
        made = entry.model_copy(update={"number": self._next_number(), "at": self._stamp()})
        with self._all_or_nothing():
            self.questions = None
            self._change(entries=(*self.visit.entries, *self._in_order(made)))
        return self.assessment.row(made.check, made.subject)

    def _in_order(self, made: Entry) -> tuple[Entry, ...]:
        """Return an entry; before a repair what was found on the part that it replaced.

        A danger that was answered and not entered is of the old part: it stands in the record, and
        nothing of it is asked of the new one.
        """
        if made.check != REPAIR:
            return (made,)
        found: list[Entry] = []
        for key, begun in self._loosen(REPLACED, entries=(made,)):
            title = BY_ID[begun.check].title
            written = str(self._left.pop(key)["typed"].get(NOTE) or begun.note)
            note = added_to(worded(written, title), PART_REPLACED, title)
            number = made.number + len(found)
            found.append(begun.model_copy(update={"number": number, "at": made.at, "note": note}))
        return (*found, made.model_copy(update={"number": made.number + len(found)}))
