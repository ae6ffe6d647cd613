"""The charging points of a site: switch between them, add more, take a slip away."""

from collections.abc import Callable

from kivy.uix.widget import Widget

from checks.assess import PointSummary
from fieldapp.language import Said
from fieldapp.screens.rows import StandingRow
from fieldapp.screens.screen import Screen, guarded, key
from fieldapp.screens.take_away import take_away_keys
from fieldapp.walk import forms
from fieldapp.walk.visit import Walk


class PointsScreen(Screen):
    """The charging points of the site, and more of them."""

    def fill(self) -> None:
        """List the points with their verdicts."""
        walk = self.walk
        self.title, self.subtitle = "Charging points", Said(walk.visit.site.name)
        rows: list[Widget] = [_row(walk, p, self._chosen) for p in walk.assessment.points]
        if not walk.is_signed:
            rows += [
                key("Add a charging point", self._add_point),
                key(f"Add one more like {walk.point.name}", self._copy),
                *take_away_keys(self, walk.point_id),
                key("Add a panel", self._add_panel),
                key("Correct what is installed", lambda: self.guide.go("facts")),
            ]
        rows.append(key("Another visit to this site", self._visit_again))
        self.put(body=rows, actions=(self.path_key(),))

    @guarded
    def _chosen(self, point: str) -> None:
        self.walk.go_to_point(point)
        self.guide.go("path")

    def _add_point(self) -> None:
        self.guide.desk.clear_form(forms.POINT)
        self.guide.go("form", forms.POINT.id)

    def _copy(self) -> None:
        self.walk.go_to_point(self.walk.copy_point(self.walk.point_id))
        self.guide.go("points")

    def _visit_again(self) -> None:
        self.guide.desk.clear_form(forms.AGAIN)
        self.guide.go("form", forms.AGAIN.id)

    def _add_panel(self) -> None:
        self.guide.desk.clear_form(forms.PANEL)
        self.guide.go("form", forms.PANEL.id)


def _row(walk: Walk, point: PointSummary, chosen: Callable[[str], None]) -> StandingRow:
    panel = walk.visit.panel(walk.visit.point(point.point).panel).name
    here = " · you are working here" if point.point == walk.point_id else ""
    return StandingRow(
        title=point.name,
        subtitle=f"{point.verdict} · {panel}{here}",
        sign=str(point.verdict),
        key=point.point,
        chosen=chosen,
    )
