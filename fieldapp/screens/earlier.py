"""Findings of earlier visits: what is still to be inspected again, and what became of the rest."""

from kivy.uix.widget import Widget

from checks.path import Station
from checks.trends import Reinspection
from fieldapp.language import Said
from fieldapp.screens.phrases import sentence
from fieldapp.screens.rows import Rows, StandingRow
from fieldapp.screens.screen import Screen, guarded
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.widgets import Card, Words


class EarlierScreen(Screen):
    """A finding stays in the first list until its check is made again at its place."""

    def fill(self) -> None:
        """List them, the gravest first."""
        walk = self.walk
        found = self.guide.desk.reinspections(walk)
        waiting = [r for r in found if r.is_open]
        again = [r for r in found if not r.is_open]
        self.title, self.subtitle = "Found at earlier visits", Said(walk.visit.site.name)
        self.progress = len(again) / len(found) if found else 0.0
        body: list[Widget] = []
        for title, listed in (("To inspect again", waiting), ("Inspected again", again)):
            if listed:
                body.append(Words(text=f"{title}: {len(listed)}", role="lead", strong=True))
                body.append(Rows([earlier_row(self, each) for each in listed]))
        if not found:
            text = "No earlier signed visit left a finding open here."
            body.append(Words(text=text, role="lead"))
        self.put(body=body)


def earlier_row(screen: Screen, each: Reinspection) -> StandingRow:
    """Return the row of an earlier finding; it leads to its check."""
    then = str(each.before.severity or "")

    @guarded
    def chosen(_: Reinspection) -> None:
        _open(screen, each)

    return StandingRow(
        title=each.title,
        subtitle=f"{then} · {each.found}\n{sentence(each.stands)}\n{where(each)}",
        sign=str(each.now.verdict) if each.now is not None else then,
        key=each,
        chosen=chosen,
    )


def where(each: Reinspection) -> str:
    """Say at which station of which panel or point."""
    place = "" if each.station in (Station.SERVICE, Station.HANDOVER) else each.name
    return " · ".join(filter(None, (each.station.value.capitalize(), place)))


def _open(screen: Screen, each: Reinspection) -> None:
    if each.subject:
        screen.guide.go("result", f"{each.check}@{each.subject}")
        return
    words = (f"{each.name} is not part of this visit. Add it under Charging points to inspect it.",)
    Sheet(each.title, words=words, accept=("Close", nothing)).open()


def found_before(each: Reinspection) -> Card:
    """Return what an earlier visit found of one check, to stand above what is found now."""
    card = Card()
    card.add_widget(Words(text=each.found, strong=True))
    card.add_widget(Words(text=sentence(each.before.explanation)))
    if each.now is None:
        card.add_widget(Words(text=sentence(each.stands), strong=True))
        if each.before.remedy:
            card.add_widget(Words(text=f"Then advised: {each.before.remedy}"))
    return card
