"""A run of questions, one at a time, with the answers so far; for a check and for a form alike."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Final

from checks.check import AnyInput, Check, Choice, Measurement, Rating, Words, YesNo
from checks.record import Answer, Chosen, Entry, Reading, Worded, YesNoAnswer, as_text
from fieldapp.walk.words import worded

NOTE: Final = "Note"  # among what is typed: no input is called so, for they begin small


@dataclass(frozen=True)
class Questions:
    """Inputs with the answers so far.

    Parameters
    ----------
    check : Check
        Which inputs, and which of them are asked after which answers.
    entry : Entry
        The answers so far; an entry that is still being made.
    typed : Mapping of str to str
        Digits or words that stand in a field and are not an answer yet.
    passed : frozenset of str
        Optional inputs that were passed over.
    at : str
        The input gone to; empty for the first that is open.
    outlasts : bool
        A danger was answered before any of these answers: none of them is what it was found by.
    """

    check: Check
    entry: Entry
    typed: Mapping[str, str] = field(default_factory=dict)
    passed: frozenset[str] = frozenset()
    at: str = ""
    outlasts: bool = False

    @property
    def is_danger_alone(self) -> bool:
        """Whether a danger was answered here by what is not among the answers.

        What told of it could not be read: it ends nothing, and stands until all is looked at anew.
        """
        entry = self.entry
        return entry.danger is not None and (self.outlasts or not entry.answers)

    @property
    def _told(self) -> Entry:
        """The entry, without a danger that ends nothing."""
        is_alone = self.is_danger_alone
        return self.entry.model_copy(update={"danger": None}) if is_alone else self.entry

    @property
    def asked(self) -> tuple[AnyInput, ...]:
        """The inputs that are asked, given the answers so far."""
        return self.check.asked(self.entry)

    @property
    def is_begun(self) -> bool:
        """Whether anything was answered, typed or shown yet."""
        entry = self.entry
        return bool(entry.answers or entry.photos or entry.note or entry.danger or self.typed)

    @property
    def note_typed(self) -> str:
        """The note as it was typed: what is too long for one too."""
        return self.typed.get(NOTE) or self.entry.note

    @property
    def missing(self) -> tuple[AnyInput, ...]:
        """The inputs that still need an answer."""
        return self.check.missing(self._told)

    @property
    def current(self) -> AnyInput | None:
        """The input on the screen: the one gone to, else the first open one; None at the end."""
        names = {i.name: i for i in self.asked}
        if self.at in names:
            return names[self.at]
        if self.check.is_ended(self._told):
            return None
        return next(
            (
                n
                for n in names.values()
                if not self.entry.answer(n.name) and n.name not in self.passed
            ),
            None,
        )

    @property
    def place(self) -> tuple[int, int]:
        """Which question this is, and of how many."""
        asked = self.asked
        current = self.current
        return (asked.index(current) + 1 if current in asked else len(asked), len(asked))

    def answered(self, answer: Answer) -> "Questions":
        """Take an answer and go on to the first open question."""
        others = tuple(a for a in self.entry.answers if a.input != answer.input)
        entry = self.entry.model_copy(update={"answers": (*others, answer)})
        typed = {k: v for k, v in self.typed.items() if k != answer.input}
        return replace(self, entry=entry, typed=typed, at="").without_unasked()

    def passed_over(self) -> "Questions":
        """Pass over an optional question; a required one stays."""
        current = self.current
        if current is None or not current.optional:
            return self
        return replace(self, passed=self.passed | {current.name}, at="")

    def back(self) -> "Questions | None":
        """Go to the question before this one; None when this is the first."""
        names = [i.name for i in self.asked]
        here = names.index(self.current.name) if self.current in self.asked else len(names)
        return replace(self, at=names[here - 1]) if here > 0 else None

    def go_to(self, name: str) -> "Questions":
        """Go to one question; an empty name goes on to the first open one."""
        return replace(self, at=name)

    def typing(self, name: str, text: str) -> "Questions":
        """Keep what stands in a field, however long it is."""
        return replace(self, typed={**self.typed, name: as_text(text)})

    def without_unasked(self) -> "Questions":
        """Drop answers to questions that a changed answer made pointless."""
        names = {i.name for i in self.asked}
        kept = tuple(a for a in self.entry.answers if a.input in names)
        return replace(self, entry=self.entry.model_copy(update={"answers": kept}))


def reply(asked: AnyInput, value: str, *, at: str, unit: str = "", instrument: str = "") -> Answer:
    """Make the answer to one input from what was tapped or typed.

    Parameters
    ----------
    asked : AnyInput
        The input; not a series.
    value : str
        The option, ``"yes"`` or ``"no"``, the words, or the digits as `numbers.kept` returned them.
    at : str
        The time, for a reading.
    unit, instrument : str
        For a reading.

    Raises
    ------
    WalkError
        Words that are too long.
    """
    if isinstance(asked, Choice):
        return Chosen(input=asked.name, option=value)
    if isinstance(asked, YesNo):
        return YesNoAnswer(input=asked.name, yes=value == "yes")
    if isinstance(asked, Words):
        return Worded(input=asked.name, text=worded(value, asked.label))
    assert isinstance(asked, Measurement | Rating), asked
    return Reading(
        input=asked.name,
        value=value,
        unit=unit,
        at=at,
        access_point=asked.access_point if isinstance(asked, Measurement) else "",
        instrument=instrument or None,
    )
