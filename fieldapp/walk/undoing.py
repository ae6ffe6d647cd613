"""Taking back what was recorded last."""

from dataclasses import replace

from checks.check import CircuitState
from checks.intake import BY_ID
from checks.record import PHOTOS_MOST, Correction, Entry, StateEntry
from fieldapp.walk import circuit
from fieldapp.walk.correcting import Correcting
from fieldapp.walk.drafts import Taken
from fieldapp.walk.on_the_way import OnTheWay
from fieldapp.walk.questions import Questions
from fieldapp.walk.refused import WalkError
from fieldapp.walk.taking_away import TakingAway


class Undoing(OnTheWay, Correcting, TakingAway):
    """The last entry, state, correction or taking away is taken back, and only that."""

    @property
    def last_recorded(self) -> str:
        """What `undo` would take back; empty when there is nothing."""
        last = self._last
        if last is None:
            return ""
        if isinstance(last, Correction):
            return "the correction"
        if isinstance(last, Taken):
            return f"{last.name} taken away"
        if isinstance(last, StateEntry):
            what, at = f"circuit {last.state}", last.point
        else:
            what, at = BY_ID[last.check].title, self.point_at(last.subject)
        return what if at == self.point_id else f"{what}, {self.visit.name_of(at)}"

    def undoes(self, number: int) -> bool:
        """Whether `undo` would take back the entry with this number."""
        return self._last is not None and self._last.number == number

    @property
    def undo_ends_load(self) -> bool:
        """Whether `undo` takes back that the circuit is under load: the charge must have ended."""
        last = self._last
        return isinstance(last, StateEntry) and last.state == CircuitState.UNDER_LOAD.value

    def undo(self, *, has_ended: bool = False) -> str:
        """Take back the last thing recorded; an entry's answers become the open draft again.

        What was begun of that check since stays its draft, but for a danger that is taken back.
        Where a circuit was said to be live and this is taken back, what proved it dead before
        counts no longer: it may have been live. A check that may not be made now stays closed.

        Parameters
        ----------
        has_ended : bool
            The technician was asked, and no current flows: asked where the load is taken back, for
            that opens what puts a hand on the coupler.

        Returns
        -------
        str
            What was taken back; empty when there was nothing.

        Raises
        ------
        WalkError
            A load is taken back, and nobody said that its current is at zero.
        """
        last = self._last
        if last is None:
            return ""
        if self.undo_ends_load and not has_ended:
            raise WalkError(
                "a charge may still run",
                where="Take the load back",
                remedy="End the charge at the vehicle or the charger, and read the current at zero",
            )
        taken_back = self.last_recorded
        with self._all_or_nothing():
            self._leave()
            if isinstance(last, StateEntry):
                self.point_id = last.point
                self._change(states=self._states_without(last))
            elif isinstance(last, Correction):
                self._take_back_correction(last)
            elif isinstance(last, Taken):
                self._put_back(last)
            else:
                self._take_back(last)
        return taken_back

    def _take_back(self, last: Entry) -> None:
        self.point_id = self.point_at(last.subject)
        step = self._step(last.check)
        entry = last.model_copy(update={"not_done": None})
        taken = Questions(self.declared(entry), entry)
        begun = self._take_up(taken)
        is_newer = begun.is_begun and (begun.entry.danger is not None or entry.danger is None)
        self.questions = _with_evidence(begun, entry) if is_newer else taken
        if step is None or step.shut_because:
            self._leave()
        self._change(entries=tuple(e for e in self.visit.entries if e is not last))

    @property
    def _last(self) -> Entry | StateEntry | Correction | Taken | None:
        # what was taken away has the number that came next: what got it since is later
        made = (*self._made, *reversed(self._taken))
        return max(made, key=lambda each: each.number, default=None)

    def _states_without(self, last: StateEntry) -> tuple[StateEntry, ...]:
        """Return the states before the last one; dead again only as newly made, not as proved."""
        states = [s for s in self.visit.states if s is not last]
        before = circuit.last_state(s for s in states if s.point == last.point)
        if before is not None and before.state == CircuitState.DEAD.value != last.state:
            states[states.index(before)] = before.model_copy(update={"number": last.number})
        return tuple(states)


def _with_evidence(begun: Questions, taken: Entry) -> Questions:
    """Return a half-made check with the photos of another, and its note where it has none."""
    names = {p.name for p in begun.entry.photos}
    photos = (*(p for p in taken.photos if p.name not in names), *begun.entry.photos)
    told = {"photos": photos[:PHOTOS_MOST], "note": begun.entry.note or taken.note}
    return replace(begun, entry=begun.entry.model_copy(update=told))
