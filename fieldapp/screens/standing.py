"""Whether it may be used, as far as the findings say: under a signal word where it may not."""

from typing import Final

from kivy.uix.widget import Widget

from checks.assess import Assessment, use
from checks.verdict import Severity
from fieldapp.widgets import SeverityBanner, Words

_STOPS: Final = (Severity.DANGER, Severity.WARNING)


def standing(assessment: Assessment) -> list[Widget]:
    """Return what says whether it may be used; nothing where nothing was found."""
    found, said = assessment.findings, use(assessment)
    if not found:
        return []
    worst = found[0].severity
    if worst in _STOPS:
        return [SeverityBanner(severity=str(worst), text=said)]
    return [Words(text=said)]
