"""What changed at a charging point since earlier signed visits."""

from kivy.uix.widget import Widget

from checks.trends import INTERVAL, PointTrend
from fieldapp.figures.trend import trend_scene
from fieldapp.screens.phrases import sentence
from fieldapp.screens.screen import Screen
from fieldapp.screens.trade_phrases import limit_line, limit_origin
from fieldapp.widgets import Card, SceneView, SeverityBanner, Words, theme


class TrendsScreen(Screen):
    """``of`` is the charging point; without it, all of the site."""

    def fill(self) -> None:
        """Show each quantity that is followed, with its figure."""
        walk = self.walk
        found = [t for t in self.guide.desk.trends(walk) if self.of in ("", t.point)]
        self.title = "Since earlier visits"
        self.subtitle = walk.visit.name_of(self.of) if self.of else walk.visit.site.name
        body: list[Widget] = [_card(each) for each in found]
        if not found:
            body.append(Words(text="Nothing was found here at an earlier visit yet.", role="lead"))
        body.append(
            Words(
                text="Each bar is a value with its uncertainty. A date is a straight line carried "
                f"on, no promise; {INTERVAL}.",
                tone="ink_soft",
            )
        )
        self.put(body=body)


def _card(found: PointTrend) -> Card:
    card = Card()
    card.add_widget(Words(text=found.title, role="lead", strong=True))
    if found.severity is not None:
        banner = SeverityBanner(severity=str(found.severity), text=sentence(found.remedy))
        card.add_widget(banner)

    def build(width: float) -> object:
        return trend_scene(found, width, text_scale=theme.text_scale)

    card.add_widget(SceneView(build=build))
    card.add_widget(Words(text=sentence(found.explanation)))
    if found.severity is None and found.remedy:
        card.add_widget(Words(text=sentence(found.remedy), strong=True))
    card.add_widget(Words(text=limit_line(found.limit), strong=True))
    card.add_widget(Words(text=limit_origin(found.limit), tone="ink_soft"))
    return card
