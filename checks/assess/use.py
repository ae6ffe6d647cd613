"""What an assessment means for whoever wants to charge here, in an owner's words."""

from typing import Final

from checks.assess.model import Assessment
from checks.verdict import Severity, Verdict

_MEANING: Final = {
    Verdict.OUTSIDE: "Something lies outside its limit.",
    Verdict.BORDERLINE: "Something lies too near its limit to be told from it.",
    Verdict.NOT_MEASURED: "Nothing wrong was found, but checks that apply were not made.",
    Verdict.WITHIN: "Every check that applies was made and lies within its limits.",
    Verdict.NOT_APPLICABLE: "No check applies to what was recorded.",
}
_USE: Final = {
    Severity.DANGER: "Do not use it: keep it off and locked until what is marked danger or warning "
    "is mended.",
    Severity.WARNING: "Do not charge here until what is marked warning is mended.",
    Severity.CAUTION: "Have what is marked caution mended or measured again soon.",
    Severity.NOTICE: "What is marked notice is worth mending; it breaks no rule.",
}


def meaning(assessment: Assessment) -> str:
    """Say the verdict in an owner's words."""
    return _MEANING[assessment.verdict]


def use(assessment: Assessment) -> str:
    """Say whether it may be used, by the worst finding; nothing where there is none.

    A person decides on return to service; this is what stands against it.
    """
    found = assessment.findings
    return _USE[found[0].severity] if found else ""
