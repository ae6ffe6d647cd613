"""Power, range and time at each charging point, and how a group's limit is shared in a night."""

from kivy.uix.widget import Widget

from checks.assess import Expected, NightPlan, Refused, expected, nights, notes
from checks.assess.energy import NO_PROMISE
from fieldapp.figures.night import night_scene
from fieldapp.figures.scene import Scene
from fieldapp.language import Said
from fieldapp.screens.phrases import sentence
from fieldapp.screens.screen import Screen
from fieldapp.widgets import Card, SceneView, Words, theme


class EnergyScreen(Screen):
    """What an owner may expect of a charge, and what that rests on."""

    def fill(self) -> None:
        """Show first what the numbers are not, then each point, then each group's night."""
        walk = self.walk
        found = expected(walk.visit, walk.assessment)
        plans = nights(walk.visit, walk.assessment)
        self.title, self.subtitle = "Power, range and time", Said(walk.visit.site.name)
        self.progress = 1.0 if walk.is_signed else 0.0
        body: list[Widget] = [Words(text=NO_PROMISE, strong=True)]
        body += [_point(each) for each in found if isinstance(each, Expected)]
        body += [_night(each) for each in plans if isinstance(each, NightPlan)]
        refused = [each for each in (*found, *plans) if isinstance(each, Refused)]
        if refused:
            body.append(_refused(refused))
        body += [Words(text=sentence(note), tone="ink_soft") for note in notes(found, plans)]
        self.put(body=body)

    def up(self) -> None:
        """Go back to the cards to leave."""
        self.guide.go("leave")


def _point(found: Expected) -> Card:
    card = Card()
    card.add_widget(Words(text=found.name, role="lead", strong=True))
    for i, (label, text) in enumerate(found.lines):
        card.add_widget(Words(text=f"{label}: {text}", strong=i == 0))
    return card


def _night(plan: NightPlan) -> Card:
    card = Card()
    card.add_widget(Words(text="The night's sharing plan", role="lead", strong=True))
    card.add_widget(Words(text=plan.where, tone="ink_soft"))

    def build(width: float) -> Scene:
        return night_scene(plan, width, text_scale=theme.text_scale)

    card.add_widget(SceneView(build=build))
    for outcome in plan.outcomes:
        card.add_widget(Words(text=outcome, strong=True))
    for text in plan.rests_on:
        card.add_widget(Words(text=text, tone="ink_soft"))
    return card


def _refused(refused: list[Refused]) -> Card:
    card = Card()
    card.add_widget(Words(text="Not worked out", role="lead", strong=True))
    for each in refused:
        card.add_widget(Words(text=each.name, strong=True))
        card.add_widget(Words(text=sentence(each.why)))
    return card
