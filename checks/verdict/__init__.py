"""What a verdict means: the words, the limit, the decision rule, and what a judgement holds."""

from checks.verdict.decision import decide, is_met, margin, margin_words
from checks.verdict.judgement import (
    HeatEnd,
    HeatingCurve,
    HeatLine,
    HeatPoint,
    Judgement,
    Tracked,
    VoltageStep,
)
from checks.verdict.limit import Force, Limit, LimitMaker, Shown, Side, at_least, at_most
from checks.verdict.words import WORST_FIRST, Severity, Verdict, worst

__all__ = [
    "WORST_FIRST",
    "Force",
    "HeatEnd",
    "HeatLine",
    "HeatPoint",
    "HeatingCurve",
    "Judgement",
    "Limit",
    "LimitMaker",
    "Severity",
    "Shown",
    "Side",
    "Tracked",
    "Verdict",
    "VoltageStep",
    "at_least",
    "at_most",
    "decide",
    "is_met",
    "margin",
    "margin_words",
    "worst",
]
