"""What the visit was begun with: what is installed and where, each fact a row to correct."""

from collections.abc import Iterator
from typing import Final

from kivy.uix.widget import Widget

from checks.path import Station
from checks.record import SITE, Visit
from fieldapp.screens.rows import LabelledRow, Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded, key
from fieldapp.screens.take_away import take_away_keys
from fieldapp.walk import facts
from fieldapp.widgets import KeyButton, Words

UNSAID: Final = "not said yet"


class FactsScreen(Screen):
    """``of`` is the station from which somebody came, and what is to be found there; else all."""

    def fill(self) -> None:
        """List the facts of the charging point, of the panels and of the site."""
        walk = self.walk
        visit = walk.visit
        self.title, self.subtitle = "What is installed", walk.point.name
        panels = [p.id for p in visit.panels]
        if self.of:
            panels = [walk.point.panel]
        places = [
            (f"Charging point: {walk.point.name}", walk.point_id),
            *((f"Panel: {visit.panel(p).name}", p) for p in panels),
            ("Site", SITE),
        ]
        body: list[Widget] = [
            Words(text="Touch what is wrong. What stood before stays in the record.")
        ]
        for name, subject in places:
            rows = [self._row(visit, name) for name in self._keys(visit, subject)]
            if rows:
                body += [Words(text=name, role="lead", strong=True), Rows(rows)]
            if not self.of:
                body += take_away_keys(self, subject)
        self.put(body=body, actions=self._ways_on())

    def _keys(self, visit: Visit, subject: str) -> Iterator[str]:
        for fact in facts.FACTS.values():
            is_here = not self.of or Station(self.of) in fact.stations
            if is_here and subject in facts.subjects(fact, visit):
                yield f"{fact.name}@{subject}"

    def _row(self, visit: Visit, which: str) -> StandingRow:
        fact, _ = facts.found(which, visit)
        before = [f"Before: {words or UNSAID}" for words in facts.before(which, visit)]
        return LabelledRow(
            label=fact.label,
            title=facts.told(which, visit) or UNSAID,
            subtitle="\n".join(before),
            key=which,
            chosen=self._chosen,
        )

    def _ways_on(self) -> list[KeyButton]:
        if not self.of:
            return [self.path_key()]
        return [self.path_key(), key("All that is installed", lambda: self.guide.go("facts"))]

    @guarded
    def _chosen(self, which: str) -> None:
        if not self.walk.is_signed:
            self.guide.go("correct", f"{which}@{self.of}")

    def up(self) -> None:
        """Go back to where somebody came from."""
        if self.of:
            self.guide.go("station", self.of)
        else:
            self.guide.go("path")


def correct_here(screen: Screen, station: Station) -> list[Widget]:
    """Return the key to what is installed at a station; none where nothing of it can be wrong."""
    is_open = not screen.walk.is_signed
    if is_open and any(station in fact.stations for fact in facts.FACTS.values()):
        return [key("Correct what is installed", lambda: screen.guide.go("facts", station.value))]
    return []
