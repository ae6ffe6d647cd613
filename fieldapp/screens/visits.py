"""The list of visits: the app's root."""

from typing import Any

from kivy.properties import BooleanProperty

from fieldapp.screens.phrases import day
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import Sheet, trouble
from fieldapp.walk import forms
from fieldapp.widgets import RowList, Words


class VisitsScreen(Screen):
    """All visits, the newest first; those that cannot be read need attention."""

    has_back = BooleanProperty(False)

    def fill(self) -> None:
        """Show the list, or what to do when there is none."""
        listing = self.guide.desk.visits()
        self._broken = listing.needs_attention
        rows = [self._broken_row(v) for v in self._broken]
        known = sorted(listing.summaries.items(), key=lambda v: v[1]["started"], reverse=True)
        rows += [_row(visit_id, summary) for visit_id, summary in known]
        self.title = "Visits"
        self.subtitle = f"{len(rows)} on this device" if rows else ""
        self.scrolls = not rows
        self.put(
            body=(self._list(rows),) if rows else self._empty(),
            actions=(
                key("Settings", lambda: self.guide.go("settings")),
                main_key("New visit", self._begin),
            ),
        )

    def _list(self, rows: list[dict[str, Any]]) -> RowList:
        shown = RowList()
        shown.show(rows, self._open)
        return shown

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
            "sign": "caution",
        }

    @guarded
    def _open(self, visit_id: str) -> None:
        if visit_id in self._broken:
            trouble(self._broken[visit_id])
        else:
            self.guide.open_visit(visit_id)

    def _begin(self) -> None:
        desk = self.guide.desk
        if not desk.settings.technician.name.strip():
            self.guide.go("settings", "name")
            return
        begun = desk.form(forms.BEGIN).entry
        if not begun.answers:
            self._start()
            return
        site = forms.said(begun, "site")
        sheet = Sheet(
            "A visit was begun and not finished",
            words=(site,) if site else (),
            accept=("Go on with it", guarded(lambda: self.guide.go("form", forms.BEGIN.id))),
            decline=("Go back", None),
        )
        sheet.add_key("Start again", guarded(self._start))
        sheet.open()

    def _start(self) -> None:
        desk = self.guide.desk
        desk.clear_form(forms.BEGIN)
        desk.clear_form(forms.POINT)
        self.guide.go("form", forms.BEGIN.id)


def _row(visit_id: str, summary: dict[str, Any]) -> dict[str, Any]:
    words = [summary["verdict"], summary["kind"], day(summary["started"])]
    if summary["is_signed"]:
        words.insert(1, "signed")
    if summary["is_invented"]:
        words.append("invented")
    return {
        "key": visit_id,
        "title": summary["site"] or "Site without a name",
        "subtitle": " · ".join(words),
        "sign": summary["verdict"],
    }
