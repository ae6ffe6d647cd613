"""The open check while its series are read: what is due, a reading taken back, the end."""

from dataclasses import replace

from checks.check import Choice, Series
from checks.record import Readings
from fieldapp.walk import measuring
from fieldapp.walk.numbers import Doubt
from fieldapp.walk.open_check import OpenCheck
from fieldapp.walk.refused import WalkError


class OpenSeries(OpenCheck):
    """The open check, at a question that is one of its series."""

    @property
    def due(self) -> measuring.Due:
        """The reading that is due next, by the stamps of those before."""
        return measuring.due(self.open_questions, self._now())

    @property
    def lasted_s(self) -> float:
        """How long the measuring has lasted. [s]."""
        return measuring.lasted_s(self.open_questions, self._now())

    @property
    def stop_question(self) -> Choice | None:
        """The question about stop signs, where the open check has one."""
        return measuring.stop_question(self.check)

    def answer(
        self, value: str, *, unit: str = "", instrument: str = "", sure: bool = False
    ) -> Doubt | None:
        """Take the answer; after a reading of a series the one that is due next is asked."""
        asked = self.open_questions.current
        found = super().answer(value, unit=unit, instrument=instrument, sure=sure)
        if found is None and isinstance(asked, Series):
            self.go_to(self.due.name)
        return found

    def pass_over(self) -> None:
        """Pass over the optional question on the screen; beside it other series go on."""
        is_series = isinstance(self.open_questions.current, Series)
        super().pass_over()
        if is_series:
            self.go_to(self.due.name)

    def stop(self, sign: str) -> None:
        """Record a stop sign: nothing more is asked after it.

        Raises
        ------
        WalkError
            The check knows no stop sign.
        """
        asked = self.stop_question
        if asked is None:
            raise WalkError(
                "this check asks for no stop sign", where=self.check.title, remedy="Write a note"
            )
        self.questions = self.open_questions.go_to(asked.name)
        self.answer(sign)

    def change_last(self) -> None:
        """Ask once more for the answer given last: it was a slip."""
        questions = self.open_questions
        *before, last = questions.entry.answers
        if isinstance(last, Readings):
            self.take_back(last.input, len(last.readings) - 1)
            return
        entry = questions.entry.model_copy(update={"answers": tuple(before)})
        self._take(replace(questions, entry=entry, at=last.input))

    def take_back(self, name: str, number: int) -> None:
        """Put a reading back into the field, to be corrected or given up; its time stays."""
        self._take(measuring.taken_back(self.open_questions, name, number))

    def give_up_reading(self) -> None:
        """Leave out the reading that was taken back, or what stands half typed."""
        current = self.open_questions.current
        if current is not None:
            self._take(measuring.given_up(self.open_questions, current.name))

    def end_series(self) -> None:
        """End the measuring and go on to the next open question."""
        self.questions = measuring.ended(self.open_questions)
        self._save_draft()
