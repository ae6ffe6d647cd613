"""The instruments of the open visit, and more of them."""

from typing import Final

from kivy.uix.widget import Widget

from checks.record import Instrument, InstrumentKind
from fieldapp.language import Said
from fieldapp.screens.guide import Guide
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import pick
from fieldapp.screens.trade_phrases import kit_line
from fieldapp.walk import kit
from fieldapp.widgets import KeyButton, Words

VISIT: Final = "visit"  # the kit of the open visit; without it, the kit that new visits start with


def tools_of(guide: Guide, whose: str) -> tuple[Instrument, ...]:
    """Return the instruments of the open visit, or those that new visits start with."""
    return guide.open_walk.visit.instruments if whose == VISIT else guide.desk.settings.instruments


def keep_tools(guide: Guide, whose: str, tools: tuple[Instrument, ...]) -> None:
    """Put changed instruments on disk."""
    if whose == VISIT:
        guide.open_walk.take_instruments(tools)
    else:
        guide.desk.set(instruments=tools)


def add_instrument(guide: Guide, whose: str) -> None:
    """Ask what it is, add the generic class of that kind, and go to correct it."""

    @guarded
    def take(kind: str) -> None:
        tools = kit.added(tools_of(guide, whose), InstrumentKind(kind))
        keep_tools(guide, whose, tools)
        guide.go("instrument", f"{whose}@{tools[-1].id}")

    pick("What is it?", [(k, k.capitalize(), "") for k in InstrumentKind], "", take)


def add_key(guide: Guide, whose: str = "") -> KeyButton:
    """Return the key that adds an instrument."""
    return key("Add an instrument", lambda: add_instrument(guide, whose))


class KitScreen(Screen):
    """Corrected here, an instrument counts for every reading of the visit, the earlier ones too."""

    def fill(self) -> None:
        """List them."""
        walk = self.walk
        self.title, self.subtitle = "Instruments", Said(walk.visit.site.name)
        rows: list[Widget] = [
            StandingRow(title=i.name, subtitle=self._line(i), key=i.id, chosen=self._chosen)
            for i in walk.visit.instruments
        ]
        if walk.is_signed:
            self.put(body=rows)
            return
        text = "A correction counts for every reading of this visit, the earlier ones too."
        self.put(
            body=[*rows, Words(text=text, tone="ink_soft")],
            actions=(
                add_key(self.guide, VISIT),
                main_key("Done", self.up),
            ),
        )

    def _line(self, tool: Instrument) -> str:
        return " · ".join(x for x in (kit_line(tool), self._late(tool)) if x)

    def _late(self, tool: Instrument) -> str:
        today = f"{self.guide.ledger.now():%Y-%m-%d}"
        return "calibration overdue: not offered" if tool.is_overdue(today) else ""

    @guarded
    def _chosen(self, which: str) -> None:
        if not self.walk.is_signed:
            self.guide.go("instrument", f"{VISIT}@{which}")

    def up(self) -> None:
        """Go back to the question that waits for an instrument, else to the path."""
        waiting = self.walk.questions
        if waiting is not None:
            self.guide.go("check", waiting.check.id)
        else:
            self.guide.go("path")
