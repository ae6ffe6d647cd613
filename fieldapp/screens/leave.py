"""The cards and markings to leave at the site, worded from the record."""

from kivy.uix.widget import Widget

from checks.assess import Card as LeftCard
from checks.assess import leave_behinds
from fieldapp.language import Said
from fieldapp.screens.phrases import sentence
from fieldapp.screens.screen import Screen, key
from fieldapp.widgets import Card, KeyButton, SeverityBanner, Words


class LeaveScreen(Screen):
    """What is to be written or handed over; the report prints it to be cut out."""

    def fill(self) -> None:
        """Show each card, then those that the record does not carry yet."""
        walk = self.walk
        found = leave_behinds(walk.visit, walk.assessment)
        self.title, self.subtitle = "Cards to leave", Said(walk.visit.site.name)
        self.progress = 1.0 if walk.is_signed else 0.0
        where = "The report prints them to be cut out; paper only shows the words of a marking."
        body: list[Widget] = [Words(text=where, tone="ink_soft")]
        body += [_card(each) for each in found.cards]
        if found.lacking:
            card = Card()
            card.add_widget(Words(text="Not made yet", role="lead", strong=True))
            for each in found.lacking:
                card.add_widget(Words(text=f"{sentence(each.kind)} {each.where}", strong=True))
                card.add_widget(Words(text=sentence(each.why)))
            body.append(card)
        if not (found.cards or found.lacking):
            body.append(Words(text="Nothing here asks for a card.", role="lead"))
        if walk.visit.points:
            body.append(key("Power, range and time", lambda: self.guide.go("energy")))
        self.put(body=body)

    def up(self) -> None:
        """Go back to the sign-off, or to the report once it is signed."""
        self.guide.go("report" if self.walk.is_signed else "sign_off")


def _card(left: LeftCard) -> Card:
    card = Card()
    card.add_widget(Words(text=left.title, role="lead", strong=True))
    card.add_widget(Words(text=left.goes, tone="ink_soft"))
    for severity, text in left.cautions:
        card.add_widget(SeverityBanner(severity=str(severity), text=text))
    for label, text in left.lines:
        if text:
            words = f"{label}: {text}" if label else text
            card.add_widget(Words(text=words, strong=not label))
    for i, step in enumerate(left.steps, 1):
        card.add_widget(Words(text=f"{i}. {step}"))
    if left.fill_in:
        first, last = left.fill_in[0], left.fill_in[-1]
        card.add_widget(Words(text=f"On paper: a line for each month, {first} to {last}."))
    for source in left.sources:
        card.add_widget(Words(text=str(source), tone="ink_soft"))
    return card


def leave_key(screen: Screen) -> KeyButton:
    """Return the key that leads to the cards."""
    walk = screen.walk
    count = len(leave_behinds(walk.visit, walk.assessment).cards)
    return key(f"Cards to leave: {count}", lambda: screen.guide.go("leave"))
