"""One instrument of the kit: its number, its calibration, its category."""

from datetime import date
from typing import Any

from checks.record import Category, Instrument
from fieldapp.screens.asking import Keeper
from fieldapp.screens.screen import Screen, guarded, main_key
from fieldapp.widgets import ChoiceList, TextEntry, Words


class InstrumentScreen(Screen):
    """``of`` is the instrument. Visits that are open keep the kit they began with."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(self._keep)

    @property
    def _tool(self) -> Instrument:
        tools = self.guide.desk.settings.instruments
        return next(i for i in tools if i.id == self.of)

    def fill(self) -> None:
        """Show the instrument."""
        tool = self._tool
        self.title, self.subtitle = tool.name, tool.kind.capitalize()
        self._serial = TextEntry(label="Serial number", text=tool.serial)
        self._due = TextEntry(
            label="Calibration due", hint="2027-01-31", text=tool.calibration_due or ""
        )
        for entry in (self._serial, self._due):
            entry.bind(text=lambda *_: self._keeper.typed("instrument"))
        category = ChoiceList(
            options=[
                (c, "None: touches no line voltage" if c is Category.NONE else c) for c in Category
            ],
            selected=tool.category,
        )
        category.bind(on_choice=lambda _, picked: self._set(category=picked))
        accuracy = "; ".join(
            f"{a.dimension}: ±({a.percent} % of reading + {a.counts} counts)" for a in tool.accuracy
        )
        self.put(
            body=(
                self._serial,
                self._due,
                Words(text="Measurement category marked on it", strong=True),
                category,
                Words(text=f"Accuracy of its class: {accuracy}", tone="ink_soft"),
                Words(text="Visits that are open keep the kit they began with.", tone="ink_soft"),
            ),
            actions=(main_key("Done", self.up),),
        )

    def _keep(self, _: str) -> None:
        due = self._due.text.strip()
        is_day = not due or _is_day(due)
        self._due.problem = "" if is_day else "Write the day as 2027-01-31"
        self._set(
            serial=self._serial.text.strip(),
            **({"calibration_due": due or None} if is_day else {}),
        )

    @guarded
    def _set(self, **changed: Any) -> None:
        desk = self.guide.desk
        made = self._tool.model_copy(update=changed)
        kit = tuple(made if i.id == made.id else i for i in desk.settings.instruments)
        desk.set(instruments=kit)

    def leave(self) -> None:
        """Keep what was typed."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the settings."""
        self.guide.go("settings")


def _is_day(text: str) -> bool:
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
