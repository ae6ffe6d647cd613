"""The list of visits: the app's root."""

from typing import Any

from kivy.clock import Clock
from kivy.metrics import dp
from kivy.properties import BooleanProperty
from kivy.uix.boxlayout import BoxLayout
from kivy.uix.widget import Widget

from fieldapp.language import Said
from fieldapp.screens.phrases import day
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import trouble
from fieldapp.walk.search import Search
from fieldapp.widgets import MESSAGE, RowList, Stack, TextEntry, Words

_SETTLED_S = 0.15  # a list of thousands is filled anew when the typing rests, not at each letter


class VisitsScreen(Screen):
    """All visits, the newest first; those that cannot be read need attention."""

    has_back = BooleanProperty(False)

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._typed = ""
        self._later = Clock.create_trigger(lambda _: self._find(), _SETTLED_S)

    def fill(self) -> None:
        """Show the list, or what to do when there is none."""
        listing = self.guide.ledger.visits()
        self._broken = listing.needs_attention
        self._summaries, self._search = listing.summaries, Search(listing.summaries)
        count = len(self._broken) + len(self._summaries)
        self.title = "Visits"
        self.subtitle = f"{count} on this device" if count else ""
        self.scrolls = not count
        self.put(
            body=self._found_and_field() if count else self._empty(),
            actions=(
                key("Settings", lambda: self.guide.go("settings")),
                main_key("New visit", self._begin),
            ),
        )

    def _found_and_field(self) -> tuple[Widget, ...]:
        self._field = TextEntry(hint="Find a visit", text=self._typed)
        self._field.bind(text=lambda *_: self._later(), on_done=lambda *_: self._find())
        above = BoxLayout(size_hint_y=None, padding=("12dp", "12dp", "12dp", 0))
        above.add_widget(self._field)
        self._field.bind(height=lambda _, height: setattr(above, "height", height + dp(12)))
        self._list = RowList()
        self._below = BoxLayout()
        self._find()
        return above, self._below

    def _find(self) -> None:
        """Show what matches; what cannot be read is listed first, whatever is looked for."""
        self._later.cancel()
        self._typed = str(self._field.text)
        found = self._search(self._typed)
        rows = [self._broken_row(v) for v in self._broken]
        rows += [_row(visit_id, self._summaries[visit_id]) for visit_id in found]
        if self._typed.strip():
            self.subtitle = f"{len(found)} of {len(self._summaries)} match"
        else:
            self.subtitle = f"{len(rows)} on this device"
        self._below.clear_widgets()
        if rows:
            self._list.show(rows, self._open)
            self._list.scroll_y = 1
            self._below.add_widget(self._list)
        else:
            self._below.add_widget(self._no_match())

    def _no_match(self) -> Widget:
        said = Stack(padding="12dp", spacing="8dp", pos_hint={"top": 1})
        text = (
            "Try a part of the site, the address or a finding. "
            "A date is written 2026-03-14 or 14 March."
        )
        said.add_widget(Words(text="No visit matches", role="title", strong=True))
        said.add_widget(Words(text=text, role="lead"))
        said.add_widget(key("Show all visits", lambda: setattr(self._field, "text", "")))
        return said

    def _empty(self) -> tuple[Words, ...]:
        return (
            Words(text="No visits yet", role="title", strong=True),
            Words(
                text="Begin one: you are asked what is here, then the path of the current from "
                "the service to the vehicle is yours to walk. Each entry is kept as you make it.",
                role="lead",
            ),
        )

    def _broken_row(self, visit_id: str) -> dict[str, Any]:
        return {
            "key": visit_id,
            "title": "Needs attention",
            "subtitle": f"This visit cannot be read; its file is kept as it is: {visit_id}",
            "sign": MESSAGE,
        }

    @guarded
    def _open(self, visit_id: str) -> None:
        if visit_id in self._broken:
            trouble(self._broken[visit_id])
        else:
            self.guide.open_visit(visit_id)

    def _begin(self) -> None:
        from fieldapp.screens.new_visit import begin  # asks what the trade asks of a site

        begin(self.guide)


def _row(visit_id: str, summary: dict[str, Any]) -> dict[str, Any]:
    words = [summary["verdict"], summary["kind"], day(summary["started"])]
    if summary["is_signed"]:
        words.insert(1, "signed")
    if summary["is_invented"]:
        words.append("invented")
    return {
        "key": visit_id,
        "title": Said(summary["site"]) or "Site without a name",
        "subtitle": " · ".join(words),
        "sign": summary["verdict"],
    }
