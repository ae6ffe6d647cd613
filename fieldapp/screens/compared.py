"""Before and after: what a check said as it was found, and what it says since the mending."""

from checks.assess import Repeat
from checks.verdict import Judgement, Verdict
from fieldapp.screens.phrases import sentence
from fieldapp.widgets import Card, VerdictTag, Words


def compared(repeat: Repeat) -> Card:
    """Return the two readings of one check, one below the other."""
    card = Card()
    card.add_widget(Words(text=f"{repeat.after.title}: before and after", role="lead", strong=True))
    for label, judged in (("As found", repeat.before.judgement), ("Now", repeat.after.judgement)):
        card.add_widget(Words(text=label, tone="ink_soft"))
        card.add_widget(VerdictTag(verdict=str(judged.verdict)))
        card.add_widget(Words(text=_said(judged)))
    if repeat.after.judgement.verdict is Verdict.OUTSIDE:
        text = "Still outside: it is not mended, or another cause is at work."
        card.add_widget(Words(text=text, strong=True))
    return card


def _said(judged: Judgement) -> str:
    found = str(judged.measured) if judged.measured is not None else ""
    return f"{found}. {sentence(judged.explanation)}" if found else sentence(judged.explanation)
