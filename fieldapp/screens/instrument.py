"""One instrument: its name and number, its calibration, its category, its data sheet."""

from datetime import date
from typing import Any, Final

from kivy.uix.widget import Widget
from pydantic import ValidationError

from checks.quantity import Accuracy
from checks.record import Category, Instrument
from fieldapp.screens.asking import Keeper
from fieldapp.screens.kit import VISIT, keep_tools, tools_of
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.walk.words import worded
from fieldapp.widgets import ChoiceList, TextEntry, Words

_SHEET: Final = ("percent", "counts", "resolution", "high")
_MOST_V: Final = 10_000
_DIGITS_MOST: Final = 9


class InstrumentScreen(Screen):
    """``of`` is the instrument, ``visit@`` before it where it is one of the open visit."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(self._keep)

    @property
    def _whose(self) -> str:
        return self.of.rpartition("@")[0]

    @property
    def _tool(self) -> Instrument:
        name = self.of.rpartition("@")[2]
        return next(i for i in tools_of(self.guide, self._whose) if i.id == name)

    def fill(self) -> None:
        """Show the instrument."""
        tool = self._tool
        self.title, self.subtitle = tool.name, tool.kind.capitalize()
        self._name = self._entry("Name", tool.name)
        self._serial = self._entry("Serial number", tool.serial)
        self._due = self._entry("Calibration due", tool.calibration_due or "", "2027-01-31")
        self._volts = self._entry("Rated volts [V]", str(tool.rated_v))
        category = ChoiceList(
            options=[
                (c, "None: touches no line voltage" if c is Category.NONE else c) for c in Category
            ],
            selected=tool.category,
        )
        category.bind(on_choice=lambda _, picked: self._set(category=picked))
        self._sheet = [self._row(a) for a in tool.accuracy]
        basis = "A generic class: correct it by the data sheet" if tool.is_generic else "Corrected"
        body: list[Widget] = [
            self._serial,
            self._due,
            self._name,
            Words(text="Measurement category marked on it", strong=True),
            category,
            self._volts,
            Words(text="Data sheet", role="lead", strong=True),
            Words(text=f"{basis}. Each range is ±(% of reading + counts).", tone="ink_soft"),
        ]
        for accuracy, entries in zip(tool.accuracy, self._sheet, strict=True):
            what = accuracy.dimension.name.replace("_", " ").capitalize()
            body += [Words(text=what, strong=True), *entries.values()]
        scope = "Visits that are open keep the kit they began with."
        if self._whose == VISIT:
            scope = "A correction counts for every reading of this visit, the earlier ones too."
        body.append(Words(text=scope, tone="ink_soft"))
        actions = (key("Remove it", self._ask_to_remove), main_key("Done", self.up))
        self.put(body=body, actions=actions)

    def _entry(self, label: str, text: str, hint: str = "") -> TextEntry:
        entry = TextEntry(label=label, hint=hint, text=text)
        entry.bind(text=lambda *_: self._keeper.typed("instrument"))
        return entry

    def _row(self, accuracy: Accuracy) -> dict[str, TextEntry]:
        unit = accuracy.shown_unit
        labels = ("± % of reading", "+ counts", f"Least step shown [{unit}]", f"Up to [{unit}]")
        return {
            name: self._entry(label, _shown(getattr(accuracy, name)))
            for name, label in zip(_SHEET, labels, strict=True)
        }

    # -- what was typed --------------------------------------------------------------------------
    def _keep(self, _: str) -> None:
        tool = self._tool
        due, volts = self._due.text.strip(), self._volts.text.strip()
        name = worded(self._name.text, self._name.label)
        changed: dict[str, Any] = {"serial": worded(self._serial.text, self._serial.label)}
        if _is_good(self._name, bool(name), "Write what you call it"):
            changed["name"] = name
        if _is_good(self._due, not due or _is_day(due), "Write the day as 2027-01-31"):
            changed["calibration_due"] = due or None
        are_volts = _is_count(volts) and int(volts) <= _MOST_V
        if _is_good(self._volts, are_volts, "Write whole volts, such as 600"):
            changed["rated_v"] = int(volts)
        sheet = tuple(map(_corrected, tool.accuracy, self._sheet))
        if sheet != tool.accuracy:
            changed |= {"accuracy": sheet, "is_generic": False}
        self._set(**changed)

    @guarded
    def _set(self, **changed: Any) -> None:
        tool = self._tool
        made = tool.model_copy(update=changed)
        if made != tool:
            tools = tools_of(self.guide, self._whose)
            keep_tools(self.guide, self._whose, tuple(made if i is tool else i for i in tools))

    def _ask_to_remove(self) -> None:
        words = ("Its number, its calibration and its data sheet go with it.",)
        sheet = Sheet(f"Remove {self._tool.name}?", words=words, accept=("Keep it", nothing))
        sheet.add_key("Remove it", guarded(self._remove))
        sheet.open()

    def _remove(self) -> None:
        tool = self._tool
        tools = tools_of(self.guide, self._whose)
        self._keeper.forget()
        keep_tools(self.guide, self._whose, tuple(i for i in tools if i is not tool))
        self.up()

    def leave(self) -> None:
        """Keep what was typed."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the kit it belongs to."""
        if self._whose == VISIT:
            self.guide.go("kit", VISIT)
        else:
            self.guide.go("settings")


def _corrected(accuracy: Accuracy, entries: dict[str, TextEntry]) -> Accuracy:
    """Return a row of the data sheet as it is typed now; what does not fit says so and waits."""
    for name, entry in entries.items():
        text = entry.text.strip().replace(",", ".")
        is_count = name == "counts"
        if is_count and not _is_count(text):
            entry.problem = "Write a whole number"
            continue
        value: str | int | None = int(text) if is_count else text or None
        try:
            made = Accuracy(**{**accuracy.model_dump(), name: value})
        except ValidationError:
            entry.problem = "Write a number, such as 0.7"
            continue
        entry.problem, accuracy = "", made
    return accuracy


def _is_good(entry: TextEntry, is_so: bool, otherwise: str) -> bool:
    entry.problem = "" if is_so else otherwise
    return is_so


def _is_count(text: str) -> bool:
    return text.isascii() and text.isdigit() and len(text) <= _DIGITS_MOST


def _is_day(text: str) -> bool:
    try:
        return date.fromisoformat(text).isoformat() == text
    except ValueError:
        return False


def _shown(value: object) -> str:
    return "" if value is None else str(value)
