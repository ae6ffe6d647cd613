"""Where the walk stands: what comes next here, and at the other charging points of the site."""

from checks.assess import Row
from checks.check import CircuitState
from checks.path import subjects_at
from checks.record import ChargingPoint, DangerAnswer, VisitKind
from checks.verdict import Severity, Verdict
from fieldapp.walk import agenda, circuit
from fieldapp.walk.on_disk import VisitOnDisk


class OnTheWay(VisitOnDisk):
    """What is to be made, in which order, and what stands in the way."""

    @property
    def state(self) -> CircuitState | None:
        """The state this point's circuit was brought into last."""
        return circuit.state_now(self.visit, self.point_id)

    @property
    def state_words(self) -> str:
        """That state as it is told: off is not dead before it was proved; empty when none is."""
        state = self.state
        if state is not CircuitState.DEAD and self._is_cut_off:
            return "switched off at a danger, not proved dead"
        if state is CircuitState.DEAD and circuit.gate(self.assessment, self.point_id, state).first:
            return "off, not proved dead yet"
        return "" if state is None else str(state)

    @property
    def _is_cut_off(self) -> bool:
        """Whether a danger was answered here, since the last switching, by switching it off.

        While its check is half made nothing is switched on: it is off since.
        """
        if DangerAnswer.OFF in self._answered_begun:
            return True
        here = subjects_at(self.point).values()
        made = (e for e in self.visit.entries if e.subject in here and e.danger is DangerAnswer.OFF)
        last = circuit.last_state(s for s in self.visit.states if s.point == self.point_id)
        since = 0 if last is None else last.number
        return any(e.number > since for e in made)

    @property
    def _answered_begun(self) -> frozenset[DangerAnswer | None]:
        """What was answered to the dangers of checks that are half made here."""
        here = subjects_at(self.point).values()
        return frozenset(e.danger for e in self.dangers_begun if e.subject in here)

    @property
    def steps(self) -> tuple[agenda.Step, ...]:
        """Every check that applies at this point, in order."""
        return agenda.steps(self.visit, self.assessment, self.point)

    def _step(self, check_id: str) -> agenda.Step | None:
        return next((s for s in self.steps if s.row.check == check_id), None)

    @property
    def next_step(self) -> agenda.Step | CircuitState | None:
        """What comes next at this point."""
        is_last = self.next_point is None
        return agenda.next_step(
            self.steps, self.state, must_be_dead=self.must_be_dead, is_last=is_last
        )

    @property
    def next_point(self) -> ChargingPoint | None:
        """The first other charging point where something is open; None where nothing is."""
        others = (p for p in self.visit.points if p.id != self.point_id)
        return next((p for p in others if self._next_at(p) is not None), None)

    def _next_at(self, point: ChargingPoint) -> agenda.Step | CircuitState | None:
        """Return what comes next at another point."""
        return agenda.next_step(
            agenda.steps(self.visit, self.assessment, point),
            circuit.state_now(self.visit, point.id),
            must_be_dead=self._must_be_dead(point),
            is_last=False,
        )

    @property
    def dead_beside(self) -> ChargingPoint | None:
        """The first other point of the panel with dead work open, while no circuit of it is live.

        It comes before this one is energised: a live circuit keeps the bus from being dead.
        """
        visit, assessment = self.visit, self.assessment
        if self.state not in (None, CircuitState.DEAD) or circuit.live_beside(visit, self.point):
            return None
        for other in circuit.beside(visit, self.point):
            left = agenda.dead_work(agenda.steps(visit, assessment, other))
            if any(not step.is_barred for step in left):
                return other
        return None

    @property
    def live_beside(self) -> ChargingPoint | None:
        """The first other point whose live circuit keeps dead work of this one shut."""
        live = circuit.live_beside(self.visit, self.point)
        return next(iter(live), None) if agenda.dead_work(self.steps) else None

    @property
    def must_be_dead(self) -> bool:
        """Whether the circuit is live, or may be, and something was found that keeps it off."""
        return self._must_be_dead(self.point)

    def _must_be_dead(self, point: ChargingPoint) -> bool:
        state = circuit.state_now(self.visit, point.id)
        if state is CircuitState.DEAD:
            return False
        if state is None:
            # what is in use is live until it was made dead
            is_in_use = self.visit.kind is VisitKind.SERVICE_CALL
            return is_in_use and circuit.is_in_danger(self.assessment, point)
        return not circuit.gate(self.assessment, point.id, state).is_open

    @property
    def stays_on(self) -> bool:
        """Whether a danger at this point stands of which it was said that it cannot be off.

        It stands from when it was answered, though its check is half made.
        """
        if DangerAnswer.STAYS_ON in self._answered_begun:
            return True
        entries = {e.number: e for e in self.visit.entries}
        standing = (s.row for s in self.steps if s.row.judgement.severity is Severity.DANGER)
        return any(
            r.judged is not None and entries[r.judged].danger is DangerAnswer.STAYS_ON
            for r in standing
        )

    @property
    def severities(self) -> frozenset[Severity]:
        """The signal words of what stands at this point, its panel and the service."""
        places = subjects_at(self.point).values()
        return frozenset(f.severity for f in self.assessment.findings if f.row.subject in places)

    def waits_for(self, row: Row) -> tuple[str, ...]:
        """Return what a check that was made still needs to be judged; empty where it needs none."""
        made = next((e for e in self.visit.entries if e.number == row.entry), None)
        is_open = row.judgement.verdict is Verdict.NOT_MEASURED
        if made is None or made.not_done is not None or not is_open or row.is_owed_again:
            return ()
        return self.looked_for(row)

    def looked_for(self, row: Row) -> tuple[str, ...]:
        """Return the checks that one looked up to be judged, and found nothing of what is there."""
        return self._assessor.looked_for(row.check, row.subject)

    @property
    def progress(self) -> tuple[int, int]:
        """How many checks of this point have an entry, and how many apply."""
        found = self.steps
        return sum(s.is_done for s in found), len(found)
