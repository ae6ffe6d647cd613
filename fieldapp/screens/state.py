"""Bringing the circuit into a state: what must stand first, the cautions, then the claim."""

from functools import partial
from typing import Any, Final

from kivy.clock import Clock
from kivy.uix.widget import Widget

from checks.assess import Row
from checks.check import LIVE_STATES, Caution, CircuitState
from checks.intake import BY_ID
from checks.path import title
from checks.record import NotDoneReason
from checks.verdict import Verdict
from fieldapp.screens.asking import Keeper
from fieldapp.screens.interruptions import STAYS_ON_STILL
from fieldapp.screens.onward import from_state
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.screens.trade_phrases import row_key
from fieldapp.walk import agenda, circuit, forms
from fieldapp.walk.questions import Questions
from fieldapp.walk.switching import Claim, Switching
from fieldapp.walk.thread import is_service_call, ranking_of
from fieldapp.widgets import KeyButton, SeverityBanner, TextEntry, Words
from fieldapp.widgets.scrolling import is_at_end, read_on

_UNDERSTOOD: Final = "Read and understood"
# What was found live can be read again only live: what lets it be.
_WORKED_ON: Final = (
    "What was found live is mended with the circuit dead. Once what is opened or measured there is "
    "made again, it may be read again live."
)
_REPAIRED: Final = (
    "What was found live is mended with the circuit dead. Once the repair is recorded, it may be "
    "read again live."
)


class StateScreen(Screen):
    """``of`` is the state; the cautions are asked again at each entry to it."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._read = 0
        self._keeper = Keeper(self._keep)
        self._understood: KeyButton | None = None  # of the caution that is shown
        self._is_more = False  # whether some of it was not yet in view
        look = Clock.create_trigger(self._look)
        self.scroll.bind(scroll_y=look, height=look, viewport_size=look)

    def enter(self, of: str) -> None:
        """Come up with no caution acknowledged."""
        self._read = 0
        super().enter(of)

    @property
    def _state(self) -> CircuitState:
        return CircuitState(self.of)

    @property
    def _how(self) -> Switching:
        return self.walk.switching(self._state)

    def fill(self) -> None:
        """Refuse with what is missing, or ask the next caution, or take the claim."""
        walk, how = self.walk, self._how
        self.title, self.subtitle = how.title, walk.point.name
        gate = circuit.gate(walk.assessment, walk.point_id, how.state)
        if not gate.is_open:
            self._refuse(gate.waiting)
        elif self._read < len(how.cautions):
            self._caution(how.cautions[self._read], len(how.cautions))
        else:
            self._claim(how)

    def _refuse(self, waiting: tuple[str, ...]) -> None:
        first = [s.row for s in self.walk.steps if s.row.check in waiting]  # in the order of work
        rows: list[Widget] = [
            StandingRow(
                title=row.title,
                subtitle=f"{row.judgement.verdict} · {title(row.station, self.walk.point)}",
                sign=str(row.judgement.verdict),
                key=row.check,
                chosen=self._open,
            )
            for row in first
        ]
        actions: list[KeyButton] = [self.path_key()]
        if first:
            to_first = partial(self._open, first[0].check)
            actions.append(main_key(f"First: {first[0].title}", to_first))
        self.progress = 0.0
        self.put(
            body=(
                SeverityBanner(
                    severity="warning",
                    text=f"Not yet: the circuit must not be {self._state} until these stand.",
                ),
                *(Words(text=words) for words in self._because(first)),
                *rows,
            ),
            actions=actions,
        )

    def _because(self, first: list[Row]) -> list[str]:
        """Say what keeps it off in the words of the causes, and what ends what was found live."""
        is_call = is_service_call(self.walk)
        words = [sentence(why) for why in ranking_of(self.walk).barred] if is_call else []
        if any(r.state in LIVE_STATES and r.judgement.verdict is Verdict.OUTSIDE for r in first):
            words.append(_REPAIRED if is_call else _WORKED_ON)
        return words

    @guarded
    def _open(self, check: str) -> None:
        walk = self.walk
        step = next(s for s in walk.steps if s.row.check == check)
        state = step.state_first(walk.state)
        if step.row.judgement.verdict is Verdict.OUTSIDE or step.is_done:
            self.guide.go("result", row_key(step.row))
        elif state is not None:
            self.guide.go("state", state.value)
        else:
            walk.begin(check)
            self.guide.go("check", check)

    def _caution(self, caution: Caution, count: int) -> None:
        self.progress = self._read / (count + 1)
        self._is_more = False
        self._understood = main_key(_UNDERSTOOD, self._acknowledge)
        self.scroll.scroll_y = 1
        told = f"{self._read + 1} of {count}: read before you switch"
        if not self.walk.visit.role.opens:  # who inspects switches nothing
            told = f"{self._read + 1} of {count}: read before you go on"
        self.put(
            body=(
                Words(text=told, tone="ink_soft"),
                SeverityBanner(severity=str(caution.signal), text=caution.text),
            ),
            actions=(
                key("Go back", self.up),
                self._understood,
            ),
        )

    def _look(self, *_: Any) -> None:
        """Have the key say what it does: in large text the rest of the caution is below.

        A key of fewer words is lower; what comes into view by that alone is not read yet.
        """
        if self._understood is None:
            return
        if not is_at_end(self.scroll):
            self._is_more = self._is_more or self.scroll.scroll_y >= 1
        elif self.scroll.scroll_y < 1:
            self._is_more = False
        self._understood.text = "Read on" if self._is_more else _UNDERSTOOD

    def _acknowledge(self) -> None:
        if not is_at_end(self.scroll):
            read_on(self.scroll)
            return
        if self._is_more and self._understood is not None:
            self._is_more, self._understood.text = False, _UNDERSTOOD
            return
        self._understood = None
        self._read += 1
        self.fill()

    def _claim(self, how: Switching) -> None:
        self.progress = len(how.cautions) / (len(how.cautions) + 1)
        body: list[Widget] = []
        if how.state is CircuitState.DEAD and self.walk.stays_on:
            body.append(SeverityBanner(severity="danger", text=STAYS_ON_STILL))
        body.append(Words(text=how.do[0], role="title", strong=True))
        # what proves the state is made anew at each entry, and stood perhaps in the last one
        here = (s.row.check for s in self.walk.steps)
        first = [c for c in here if BY_ID[c].proves and BY_ID[c].state is how.state]
        if first:
            body.append(
                Words(text=f"Then, before anything else: {agenda.titles(first)}.", role="lead")
            )
        body += [Words(text=line, tone="ink_soft") for line in how.do[1:]]
        if how.whom:
            body.append(self._whom(how.whom))
        if how.no:
            body.append(key(how.no, self._none))
        self.put(body=body, actions=self._claims(how))

    def _whom(self, label: str) -> TextEntry:
        named = TextEntry(label=label, text=self._kept.typed.get(self._place, ""))
        named.bind(text=lambda _, text: self._keeper.typed(text))
        return named

    def _claims(self, how: Switching) -> list[KeyButton]:
        def record(claim: Claim) -> None:
            self.leave()
            named = self._kept.typed.get(self._place, "") if how.whom else ""
            go_on = from_state(self.guide, how.state)
            self.walk.enter_state(how.state, brought_by=named, is_found=claim.is_found)
            self.guide.desk.clear_form(forms.CIRCUIT)
            go_on()

        *others, last = how.claims
        keys = [] if how.no else [key("Go back", self.up)]
        keys += [key(c.words, partial(record, c)) for c in others]
        return [*keys, main_key(last.words, partial(record, last))]

    @property
    def _kept(self) -> Questions:
        """What was typed so far; on disk like any other answer."""
        return self.guide.desk.form(forms.CIRCUIT)

    @property
    def _place(self) -> str:
        return f"{self.walk.visit.id} {self.walk.point_id} {self.of}"

    def _keep(self, text: str) -> None:
        self.guide.desk.keep_form(self._kept.typing(self._place, text))

    def leave(self) -> None:
        """Keep the name that stands half typed."""
        self._keeper.flush()

    def _none(self) -> None:
        how = self._how
        sheet = Sheet(
            how.no,
            words=("What waits for it is left out, with this reason. Each can be undone.",),
            accept=("Leave these checks out", guarded(self._go_without)),
            decline=("Go back", nothing),
        )
        sheet.open()

    def _go_without(self) -> None:
        self.walk.go_without(self._state, NotDoneReason.OTHER, self._how.no)
        self.guide.go("path")
