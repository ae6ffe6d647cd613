"""Bringing the circuit into a state: what must stand first, the cautions, then the claim."""

from typing import Any

from kivy.uix.widget import Widget

from checks.check import STATE_CAUTIONS, CircuitState
from checks.verdict import Verdict
from fieldapp.screens.phrases import BRING_INTO, BROUGHT, row_key
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.walk import agenda
from fieldapp.widgets import SeverityBanner, Words


class StateScreen(Screen):
    """``of`` is the state; the cautions are asked again at each entry to it."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._read = 0

    def enter(self, of: str) -> None:
        """Come up with no caution acknowledged."""
        self._read = 0
        super().enter(of)

    @property
    def _state(self) -> CircuitState:
        return CircuitState(self.of)

    def fill(self) -> None:
        """Refuse with what is missing, or ask the next caution, or take the claim."""
        walk, state = self.walk, self._state
        self.title, self.subtitle = BRING_INTO[state], walk.point.name
        gate = agenda.gate(walk.assessment, walk.point_id, state)
        cautions = STATE_CAUTIONS[state]
        if not gate.is_open:
            self._refuse(gate.waiting)
        elif self._read < len(cautions):
            self._caution(self._read)
        else:
            self._claim()

    def _refuse(self, waiting: tuple[str, ...]) -> None:
        walk = self.walk
        steps = {s.row.check: s for s in walk.steps}
        rows: list[Widget] = [
            StandingRow(
                title=steps[c].row.title,
                subtitle=f"{steps[c].row.judgement.verdict} · {steps[c].row.station}",
                sign=str(steps[c].row.judgement.verdict),
                key=c,
                chosen=self._open,
            )
            for c in waiting
            if c in steps
        ]
        self.progress = 0.0
        self.put(
            body=(
                SeverityBanner(
                    severity="notice",
                    text=f"Not yet: the circuit must not be {self._state} until these stand.",
                ),
                *rows,
            ),
            actions=(main_key("Back to the path", self.up),),
        )

    @guarded
    def _open(self, check: str) -> None:
        walk = self.walk
        step = next(s for s in walk.steps if s.row.check == check)
        if step.row.judgement.verdict is Verdict.OUTSIDE or step.is_done:
            self.guide.go("result", row_key(step.row))
        elif step.shut_because and step.row.state not in (CircuitState.ANY, walk.state):
            no_load = step.row.state is CircuitState.NO_CURRENT
            self.guide.go("state", (CircuitState.ENERGISED if no_load else step.row.state).value)
        else:
            walk.begin(check)
            self.guide.go("check", check)

    def _caution(self, index: int) -> None:
        cautions = STATE_CAUTIONS[self._state]
        caution = cautions[index]
        self.progress = index / (len(cautions) + 1)
        self.put(
            body=(
                Words(text=f"Caution {index + 1} of {len(cautions)}", tone="ink_soft"),
                SeverityBanner(severity=str(caution.signal), text=caution.text),
            ),
            actions=(
                key("Go back", self.up),
                main_key("Read and understood", self._acknowledge),
            ),
        )

    def _acknowledge(self) -> None:
        self._read += 1
        self.fill()

    def _claim(self) -> None:
        state = self._state
        self.progress = len(STATE_CAUTIONS[state]) / (len(STATE_CAUTIONS[state]) + 1)
        body: list[Widget] = [Words(text=f"{BRING_INTO[state]} now.", role="title", strong=True)]
        first = agenda.gate(self.walk.assessment, self.walk.point_id, state).first
        if first:
            body.append(
                Words(text=f"Then, before anything else: {agenda.titles(first)}.", role="lead")
            )
        body.append(
            Words(
                text="The lock, the switch and the decision are yours; this only records that the "
                "state was reached.",
                tone="ink_soft",
            )
        )
        self.put(
            body=body, actions=(key("Go back", self.up), main_key(BROUGHT[state], self._record))
        )

    def _record(self) -> None:
        self.walk.enter_state(self._state)
        self.guide.go("path")
