"""Whether it may be used, as far as the findings say: under a signal word where it may not."""

from typing import Final

from kivy.uix.widget import Widget

from checks.assess import use
from checks.verdict import Severity
from fieldapp.screens.interruptions import STAYS_ON_STILL
from fieldapp.walk.visit import Walk
from fieldapp.widgets import SeverityBanner, Words

_STOPS: Final = (Severity.DANGER, Severity.WARNING)


def standing(walk: Walk) -> list[Widget]:
    """Return what says whether it may be used; nothing where nothing was found.

    Where somebody said that it cannot be switched off, nobody is told to switch it off.
    """
    if walk.stays_on and not walk.is_signed:
        return [SeverityBanner(severity="danger", text=STAYS_ON_STILL)]
    found, said = walk.assessment.findings, use(walk.assessment)
    if not found:
        return []
    worst = found[0].severity
    if worst in _STOPS:
        return [SeverityBanner(severity=str(worst), text=said)]
    return [Words(text=said)]
