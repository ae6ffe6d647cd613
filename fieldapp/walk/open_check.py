"""The check that is open: one question at a time, judged as it stands, kept as it is typed."""

from collections.abc import Iterable
from dataclasses import replace

from checks.assess import trial
from checks.check import (
    CASE_UNREAD,
    DANGER_STANDS,
    LIVE_STATES,
    AnyInput,
    Caution,
    Check,
    CircuitState,
    Measurement,
    Rating,
    Series,
    not_measured,
)
from checks.errors import NotAssessedError
from checks.intake import check_answer
from checks.path import Scope, Station
from checks.record import Category, Chosen, DangerAnswer, Entry, Instrument, Reading
from checks.units import unit
from checks.verdict import Judgement, Severity
from fieldapp.walk import agenda, circuit, kit
from fieldapp.walk.drafts import with_answer
from fieldapp.walk.numbers import Doubt, doubt, kept
from fieldapp.walk.on_disk import VisitOnDisk, danger_unfinished
from fieldapp.walk.questions import NOTE, Questions, reply
from fieldapp.walk.refused import WalkError
from fieldapp.walk.words import worded


class OpenCheck(VisitOnDisk):
    """The check that is being made at the point that is walked, until it is an entry."""

    @property
    def open_questions(self) -> Questions:
        """What is asked of the check that is open."""
        if self.questions is None:
            raise WalkError("no check is open", where="walk", remedy="Open a check first")
        return self.questions

    def is_open(self, check_id: str) -> bool:
        """Whether it is this check that is open."""
        return self.questions is not None and self.questions.check.id == check_id

    @property
    def check(self) -> Check:
        """The check that is open."""
        return self.open_questions.check

    @property
    def cautions(self) -> tuple[Caution, ...]:
        """The cautions of the open check, and those of what stands or is not known here."""
        here = (DANGER_STANDS,) if self._stands_in_danger() else ()
        case = (CASE_UNREAD,) if self.check.touches and self._may_case_be_live() else ()
        return (*here, *case, *self.check.cautions)

    def _may_case_be_live(self) -> bool:
        """Whether neither the circuit is proved dead nor the volts on the enclosure are read."""
        state = circuit.state_now(self.visit, self.point_id)
        is_proved = not circuit.gate(self.assessment, self.point_id, CircuitState.DEAD).first
        is_dead = state is CircuitState.DEAD and is_proved
        return not is_dead and not circuit.is_case_read(self.visit, self.assessment, self.point)

    def _stands_in_danger(self) -> bool:
        """Whether another check found a danger at this place, and the circuit is not dead."""
        check, entry = self.check, self.open_questions.entry
        places = {(check.station, entry.subject)}
        if check.station in (Station.PANEL, Station.BREAKER):  # a breaker hangs in its panel
            places = {(Station.PANEL, self.point.panel), (Station.BREAKER, self.point_id)}
        return check.state is not CircuitState.DEAD and any(
            f.severity is Severity.DANGER
            and f.row.check != check.id
            and (f.row.station, f.row.subject) in places
            for f in self.assessment.findings
        )

    @property
    def awaits_cautions(self) -> tuple[Caution, ...]:
        """The cautions of the open check that are to be acknowledged before it goes on.

        None where each was acknowledged word for word at another check of this charger, panel or
        site since the circuit was brought into its state, on the same day: they stand on the page.
        A danger is acknowledged each time, and so is what comes before a number, whose pad leaves
        no room for them.
        """
        left = self._left_cautions
        return left if self._asks_again(left) else ()

    @property
    def cautions_in_view(self) -> tuple[Caution, ...]:
        """The cautions of the open check that were acknowledged before, to stand on its page."""
        left = self._left_cautions
        return () if self._asks_again(left) else left

    @property
    def _left_cautions(self) -> tuple[Caution, ...]:
        seen = self.open_questions.entry.cautions
        return tuple(c for c in self.cautions if c.text not in seen)

    def _asks_again(self, left: tuple[Caution, ...]) -> bool:
        begun, visit = self.open_questions.entry, self.visit
        is_typed = isinstance(self.check.inputs[0], Measurement | Rating | Series)
        if is_typed or any(c.signal is Severity.DANGER for c in left):
            return True
        since = max((s.number for s in visit.states if s.point == self.point_id), default=0)
        here = (
            e
            for e in visit.entries
            if e.subject == begun.subject and e.number > since and e.at[:10] == begun.at[:10]
        )
        acknowledged = {text for e in here for text in e.cautions}
        return any(c.text not in acknowledged for c in left)

    def acknowledge(self) -> None:
        """Record that the cautions of the open check were read."""
        self._keep_entry(cautions=tuple(c.text for c in self.cautions))

    @property
    def awaits_danger(self) -> Judgement | None:
        """The judgement of a danger that was not answered yet; None when there is none."""
        judged = self.preview()
        is_danger = judged.severity is Severity.DANGER
        return judged if is_danger and self.open_questions.entry.danger is None else None

    def answer_danger(self, said: DangerAnswer) -> None:
        """Record what was answered when the danger interrupted the work.

        What is asked next is the first question that is open then: no series is read on.
        """
        self.questions = self.open_questions.go_to("")
        self._keep_entry(danger=said)

    # -- answers -----------------------------------------------------------------------------------
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
            The cautions were not acknowledged, no fit instrument is there, no number is typed, or
            an option was picked that something else comes first for.
        RecordError
            The answer does not fit the question.
        """
        questions = self.open_questions
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
            found = None if sure else doubt(asked, value, unit, self._named(instrument))
            if found is not None:
                return found
        stamp = self._stamp_for(questions, asked)
        made = reply(asked, value, at=stamp, unit=unit, instrument=instrument)
        taken = with_answer(questions, asked, made)
        check_answer(self.visit, asked, taken.entry.answer(asked.name) or made, asked.label)
        self._require_options(taken.entry)
        self._take(taken)
        return None

    def _take(self, changed: Questions) -> None:
        """Go on with changed answers; a danger that none tells of any more was a slip.

        The next one interrupts again. One that was found by what could not be read is no slip
        before every question is answered; found again where it is read live, it ends the reading.
        """
        is_alone = self.open_questions.is_danger_alone
        self.questions = replace(changed, outlasts=is_alone)
        if changed.entry.danger is not None:
            is_found = self.preview().severity is Severity.DANGER
            if is_found and changed.check.state in LIVE_STATES:
                self.questions = replace(changed, outlasts=False)
            elif not is_found and not (is_alone and self.open_questions.missing):
                entry = changed.entry.model_copy(update={"danger": None})
                self.questions = replace(changed, entry=entry, outlasts=False)
        self._save_draft()

    def shut_options(self, asked: AnyInput) -> dict[str, str]:
        """Return the options of an input that may not be picked now, each with what is first."""
        return agenda.shut_options(self.visit, self.assessment, self.point, asked)

    def _require_options(self, entry: Entry) -> None:
        """Refuse an answer that was given where it may not be given now."""
        for said in (a for a in entry.answers if isinstance(a, Chosen)):
            asked = self.check.input(said.input)
            shut = {} if asked is None else self.shut_options(asked)
            if asked is not None and said.option in shut:
                raise WalkError(
                    f"{asked.label} cannot be answered so now, {shut[said.option]}",
                    where=self.check.title,
                    remedy="Do first what it waits for, or go back to it and choose another",
                )

    def _stamp_for(self, questions: Questions, asked: AnyInput) -> str:
        """Return the time of a reading: now, or its own where it was taken back."""
        return questions.typed.get(f"{asked.name} at") or self._stamp()

    def typing(self, text: str, **chosen: str) -> None:
        """Keep on disk what stands half typed in the field, and what was chosen for it.

        Parameters
        ----------
        text : str
            The digits or words.
        **chosen : str
            ``unit`` and ``instrument`` of a number.
        """
        current = self.open_questions.current
        if current is not None:
            questions = self.open_questions.typing(current.name, text)
            for what, choice in chosen.items():
                questions = questions.typing(f"{current.name} {what}", choice)
            self.questions = questions
            self._save_draft()

    def pass_over(self) -> None:
        """Pass over the optional question on the screen."""
        self.questions = self.open_questions.passed_over()
        self._save_draft()

    def go_to(self, name: str) -> None:
        """Go to one question of the open check; an empty name goes on."""
        self._take(self.open_questions.go_to(name))

    def back(self) -> bool:
        """Go to the question before; False when this was the first, and the check stays a draft."""
        before = self.open_questions.back()
        if before is None:
            return False
        self.questions = before
        self._save_draft()
        return True

    def note(self, text: str) -> None:
        """Keep the technician's own words with the open check.

        Raises
        ------
        WalkError
            They are too long; as they were typed they are on disk all the same.
        """
        try:
            said = worded(text, NOTE)
        except WalkError:
            self.questions = self.open_questions.typing(NOTE, text)
            self._save_draft()
            raise
        typed = {name: t for name, t in self.open_questions.typed.items() if name != NOTE}
        self.questions = replace(self.open_questions, typed=typed)
        self._keep_entry(note=said)

    @property
    def note_typed(self) -> str:
        """The note of the open check as it was typed: what is too long for one too."""
        return self.open_questions.note_typed

    def _require_note(self) -> None:
        """Refuse to go on while a note stands there that is too long: some of it would be lost."""
        worded(self.note_typed, NOTE)

    def preview(self, typed: str = "", unit: str = "", instrument: str = "") -> Judgement:
        """Judge the open check as it stands, with what is half typed taken for an answer.

        The limits are in it before anything is typed. What this software fails to judge is said to
        be so; it is refused as an entry.
        """
        questions = self.open_questions
        entry = questions.entry
        asked = questions.current
        if typed and isinstance(asked, Measurement | Rating):
            stamp = self._stamp_for(questions, asked)
            made = reply(asked, typed, at=stamp, unit=unit, instrument=instrument)
            entry = with_answer(questions, asked, made).entry
        # it counts last, whatever was made since it was begun
        last = entry.model_copy(update={"number": self._next_number()})
        try:
            return trial(self.visit, self.code, last)
        except NotAssessedError as error:  # it can still be corrected, or left out
            return not_measured(f"{error.problem}. {error.remedy}")

    def drop(self) -> None:
        """Close the open check without an entry; its answers are given up.

        Raises
        ------
        WalkError
            One of them is a danger: nothing would be left of it.
        """
        begun = self.open_questions.entry
        if begun.danger is not None or self.awaits_danger is not None:
            raise danger_unfinished(begun)
        self.questions = None
        self._save_draft()

    def _keep_entry(self, **changed: object) -> None:
        entry = self.open_questions.entry.model_copy(update=changed)
        self.questions = replace(self.open_questions, entry=entry)
        self._save_draft()

    # -- instruments -------------------------------------------------------------------------------
    def instruments_for(self, asked: AnyInput) -> tuple[Instrument, ...]:
        """Return the instruments that are fit for an input.

        The one that read the same quantity in this check comes first; then the kind that the check
        names first, which is made for it; of one kind, the one that was used last.
        """
        if not isinstance(asked, Measurement) or not asked.instruments:
            return ()
        here = set(_used([self.open_questions.entry], asked))
        used = _used(sorted(self.visit.entries, key=lambda e: -e.number), asked)

        def rank(i: Instrument) -> tuple[bool, int, int]:
            at = used.index(i.id) if i.id in used else len(used)
            return i.id not in here, asked.instruments.index(i.kind), at

        found = kit.fit(asked, self.visit.instruments, self._volts, self._stamp())
        return tuple(sorted(found, key=rank))

    def needed_for(self, asked: Measurement) -> str:
        """Say what an instrument must be to be fit for an input."""
        kinds = " or ".join(asked.instruments)
        if asked.category is Category.NONE:
            return f"{kinds} in calibration"
        return f"{kinds} in calibration, {asked.category}, {self._volts} V or more,"

    def _named(self, instrument: str) -> Instrument | None:
        return next((i for i in self.visit.instruments if i.id == instrument), None)

    def _require_fit(self, asked: Measurement, instrument: str) -> None:
        fit = self.instruments_for(asked)
        if instrument in [i.id for i in fit]:
            return
        raise WalkError(
            f"no {self.needed_for(asked)} was named",
            where=asked.label,
            remedy="Add a fit instrument to the kit, or leave the check out with that reason",
        )

    @property
    def _volts(self) -> int:
        """Nominal volts between the lines where the open check is made. [V]."""
        is_here = self.check.station.scope is Scope.POINT
        return self.point.nominal_v if is_here else self.visit.system.level_2_v


def _used(entries: Iterable[Entry], asked: Measurement) -> list[str]:
    """Return the instruments that the same quantity was read with, in the order of the entries."""
    return [
        a.instrument
        for e in entries
        for a in e.answers
        if isinstance(a, Reading) and a.instrument and unit(a.unit).dimension is asked.dimension
    ]
