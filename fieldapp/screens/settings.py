"""Settings: who signs, how it looks, which units come first, and the kit."""

from typing import Any

from kivy.uix.widget import Widget

from checks.record import Person
from fieldapp.language import LANGUAGES, NOT_REVIEWED, REVIEWED
from fieldapp.screens.asking import Keeper
from fieldapp.screens.kit import add_key
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, main_key
from fieldapp.screens.trade_phrases import kit_line
from fieldapp.theme import PALETTES, TEXT_SCALES
from fieldapp.walk import forms
from fieldapp.walk.words import worded
from fieldapp.widgets import ChoiceList, Message, TextEntry, Words, theme

_FIELDS = (
    ("name", "Your name", "As it stands on the license"),
    ("license_number", "License number", ""),
    ("company", "Company", ""),
)
_UNITS = [("si", "m, °C, N·m"), ("customary", "ft, °F, lbf·in")]


class SettingsScreen(Screen):
    """Everything is on disk as it is changed. ``of`` is "name" when a visit waits for it."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._keeper = Keeper(self._keep)
        self._fields: dict[str, TextEntry] = {}

    def fill(self) -> None:
        """Show the settings."""
        self.title, self.subtitle = "Settings", "Kept on this device only"
        settings = self.guide.desk.settings
        body: list[Widget] = []
        if self.of == "name":
            text = "Enter your name first: it stands on every report that you sign."
            body.append(Message(text=text))
        self._fields = {}
        for name, label, hint in _FIELDS:
            entry = TextEntry(label=label, hint=hint, text=getattr(settings.technician, name))
            entry.bind(text=lambda *_: self._keeper.typed("technician"))
            self._fields[name] = entry
            body.append(entry)
        body += [_head("Light"), self._themes(), _head("Text size"), self._text_sizes()]
        body += [_head("Units offered first"), self._units()]
        body += [_head("Language"), *self._languages()]
        body += [_head("Kit of new visits"), *self._kit()]
        begin = self.of == "name"
        words = "Go on to the new visit" if begin else "Done"
        self.put(body=body, actions=(main_key(words, self._begin if begin else self.up),))

    def _themes(self) -> ChoiceList:
        rows = ChoiceList(
            options=[(name, name.capitalize()) for name in PALETTES],
            selected=self.guide.desk.settings.theme,
        )
        rows.bind(on_choice=lambda _, name: self._set_theme(name))
        return rows

    @guarded
    def _set_theme(self, name: str) -> None:
        self.guide.desk.set(theme=name)
        theme.name = name

    def _text_sizes(self) -> ChoiceList:
        rows = ChoiceList(
            options=[(scale, f"{scale:.0%}") for scale in TEXT_SCALES],
            selected=self.guide.desk.settings.text_scale,
            columns=2,
        )
        rows.bind(on_choice=lambda _, scale: self._set_text_scale(scale))
        return rows

    @guarded
    def _set_text_scale(self, scale: float) -> None:
        self.guide.desk.set(text_scale=scale)
        theme.text_scale = scale

    def _units(self) -> ChoiceList:
        chosen = "customary" if self.guide.desk.settings.is_customary else "si"
        rows = ChoiceList(options=_UNITS, selected=chosen)
        rows.bind(on_choice=lambda _, system: self._set_units(system))
        return rows

    @guarded
    def _set_units(self, system: str) -> None:
        self.guide.desk.set(is_customary=system == "customary")

    def _languages(self) -> list[Widget]:
        chosen = self.guide.desk.settings.language
        rows = ChoiceList(options=list(LANGUAGES.items()), selected=chosen)
        rows.bind(on_choice=lambda _, code: self._set_language(code))
        return [rows] if chosen in REVIEWED else [rows, Words(text=NOT_REVIEWED, tone="ink_soft")]

    @guarded
    def _set_language(self, code: str) -> None:
        self.guide.speak(code)
        self.guide.go("settings", self.of)

    def _kit(self) -> list[Widget]:
        return [
            StandingRow(title=i.name, subtitle=kit_line(i), key=i.id, chosen=self._instrument)
            for i in self.guide.desk.settings.instruments
        ] + [add_key(self.guide)]

    @guarded
    def _instrument(self, which: str) -> None:
        self.guide.go("instrument", which)

    def _keep(self, _: str) -> None:
        said = {name: worded(self._fields[name].text, label) for name, label, _ in _FIELDS}
        self.guide.desk.set(technician=Person(**said))

    def leave(self) -> None:
        """Keep what was typed."""
        self._keeper.flush()

    def up(self) -> None:
        """Go back to the visits."""
        self.guide.go("visits")

    def _begin(self) -> None:
        self.leave()
        if self.guide.desk.settings.technician.name.strip():
            self.guide.go("form", forms.BEGIN.id)


def _head(text: str) -> Words:
    return Words(text=text, role="lead", strong=True)
