"""Half-made checks: what they keep dead, and what becomes of them where their object is gone."""

from collections.abc import Iterable
from dataclasses import replace
from typing import Final, TypeVar

from checks.check import REPAIR, AnyInput, Choice, CircuitState, gone_entries, latest_entries
from checks.intake import BY_ID
from checks.path import Scope
from checks.record import TEXT_MOST, Chosen, Correction, Entry, Readings
from checks.verdict import Verdict
from fieldapp.walk.drafts import draft_of, entry_of, resumed
from fieldapp.walk.observed import answered
from fieldapp.walk.on_disk import VisitOnDisk
from fieldapp.walk.questions import NOTE, Questions
from fieldapp.walk.words import added_to

CORRECTED: Final = "the correction of what is installed"
REPLACED: Final = "the replacement of a part"
LEFT_OUT: Final = "it was left out"

T = TypeVar("T", Entry, Correction)


class HalfMade(VisitOnDisk):
    """What stands half made, held against what is there, and once the visit is changed."""

    @property
    def keeps_dead(self) -> Entry | None:
        """The first half-made check for which the circuit here is dead; None where there is none.

        Hands may be there yet, or a conductor is off: until it is finished or left out.
        """
        return next((each.entry for each in self.half_made if self._keeps_dead(each)), None)

    def _keeps_dead(self, begun: Questions) -> bool:
        entry, here = begun.entry, self.point
        is_asked = any(
            (r.check, r.subject) == (entry.check, entry.subject)
            and r.judgement.verdict is not Verdict.NOT_APPLICABLE
            for r in self.assessment.rows
        )
        picked = (BY_ID[c].state for c in _picked_needs(begun))
        if not is_asked or CircuitState.DEAD not in (begun.check.state, *picked):
            return False
        if entry.subject in (here.id, here.panel):
            return True
        beside = {p.id for p in self.visit.points if p.panel == here.panel}
        return entry.subject in beside and _is_in_panel(begun)

    def _loosen(
        self,
        before: str,
        *,
        entries: tuple[Entry, ...] = (),
        corrections: tuple[Correction, ...] = (),
        **installed: object,
    ) -> tuple[tuple[str, Entry], ...]:
        """Turn the answers of half-made checks that are of what goes into their notes.

        Parameters
        ----------
        before : str
            What happens to it, for the note.
        entries, corrections : tuple
            What comes to the record, with the next number.
        installed : object
            The fields that change beside them.

        Returns
        -------
        tuple
            Those in which a danger was answered, with their keys: they are left as they are.
        """
        number = self._next_number()  # of what is half made: after all that is there already
        now = self.visit.model_copy(
            update={
                **installed,
                "entries": (*self.visit.entries, *_put_off(entries)),
                "corrections": (*self.visit.corrections, *_put_off(corrections)),
            }
        )
        drafts = [(key, draft, entry_of(draft)) for key, draft in self._left.items()]
        half_made = [(key, draft, begun) for key, draft, begun in drafts if begun is not None]
        counts = {at: e for at, e in latest_entries(now).items() if e.check == REPAIR}
        for _, _, begun in half_made:
            numbered = begun.model_copy(update={"number": number})
            counts[begun.check, begun.subject] = numbered
        goes = gone_entries(now, counts)
        dangers = []
        for key, draft, begun in half_made:
            gone = goes.get((begun.check, begun.subject))
            if gone is None:
                continue
            kept = frozenset(a.input for a in gone.left.answers) if gone.left else frozenset()
            if begun.danger is not None and not kept:
                dangers.append((key, begun))
                continue
            half = resumed(self.declared(begun), draft)
            self._left[key] = draft_of(as_note(half, kept, before))
        return tuple(dangers)


def _put_off(made: Iterable[T]) -> tuple[T, ...]:
    """Return what comes to the record numbered after what is half made."""
    return tuple(m.model_copy(update={"number": m.number + 1}) for m in made)


def _is_in_panel(begun: Questions) -> bool:
    """Whether a check is made on a dead bus, by what it is or by what was picked in it."""
    needs = (BY_ID[c] for c in (*begun.check.needs, *_picked_needs(begun)))
    return any(c.state is CircuitState.DEAD and c.station.scope is Scope.PANEL for c in needs)


def _picked_needs(begun: Questions) -> tuple[str, ...]:
    """Return the checks that must stand for what was picked in one."""
    picked = {(a.input, a.option) for a in begun.entry.answers if isinstance(a, Chosen)}
    choices = (i for i in begun.check.inputs if isinstance(i, Choice))
    options = (o for i in choices for o in i.options if (i.name, o.value) in picked)
    return tuple(c for o in options for c in o.needs)


def as_note(begun: Questions, kept: frozenset[str], before: str) -> Questions:
    """Return a half-made check without what it said of what goes; that stands in its note.

    A note that gets too long by it stands as if it was typed, to be shortened: nothing is cut off.
    """
    note = f"{begun.note_typed} {_told(begun, kept, before)}".strip()
    typed = {name: text for name, text in begun.typed.items() if name in kept}
    answers = tuple(a for a in begun.entry.answers if a.input in kept)
    entry = begun.entry.model_copy(update={"answers": answers})
    if NOTE in begun.typed or len(note) > TEXT_MOST:
        typed[NOTE] = note
    else:
        entry = entry.model_copy(update={"note": note})
    outlasts = entry.danger is not None  # what it was found by may be among what goes
    return replace(begun, entry=entry, typed=typed, passed=frozenset(), at="", outlasts=outlasts)


def left_out_note(begun: Questions, added: str) -> str:
    """Return the note of a check that is left out: with what was answered, and what is added.

    Readings that are too many for a note stand in it as how many, the first and the last.

    Raises
    ------
    WalkError
        There is no room for it.
    """
    told = _told(begun, frozenset(), LEFT_OUT)
    if len(f"{told} {added}") > TEXT_MOST:
        told = _told(begun, frozenset(), LEFT_OUT, is_short=True)
    return added_to(begun.entry.note, f"{told} {added}".strip(), begun.check.title)


def _told(begun: Questions, kept: frozenset[str], before: str, *, is_short: bool = False) -> str:
    goes = [asked for asked in begun.asked if asked.name not in kept]
    told = [(asked.label.rstrip("?"), _words(asked, begun.entry, is_short)) for asked in goes]
    said = "; ".join(f"{label}: {words}" for label, words in told if words)
    return f"Answered before {before}: {said}." if said else ""


def _words(asked: AnyInput, entry: Entry, is_short: bool) -> str:
    found = entry.answer(asked.name)
    if not isinstance(found, Readings):
        return answered(asked, entry)
    each = [f"{r.value} {r.unit} at {r.at[11:19]}" for r in found.readings]
    few = 2  # the first and the last
    if is_short and len(each) > few:
        return f"{len(each)} readings, from {each[0]} to {each[-1]}"
    return ", ".join(each)
