"""Asked before something is returned to service in spite of what was found there."""

from collections.abc import Callable

from checks.assess import Assessment, use
from checks.record import Decision
from fieldapp.screens.phrases import sentence
from fieldapp.screens.sheets import Sheet, nothing


def in_spite(assessment: Assessment, decide: Callable[[str], None]) -> None:
    """Name every danger and warning, and ask again: the person decides, knowing them.

    Parameters
    ----------
    assessment : Assessment
        Of the visit.
    decide : callable
        Gets the decision.
    """
    grave = [f for f in assessment.findings if f.severity.is_grave]
    sheet = Sheet(
        "Return to service in spite of this?",
        cautions=[(str(grave[0].severity), use(assessment))],
        words=[f"{f.row.title}: {sentence(f.row.judgement.explanation)}" for f in grave],
        accept=("Keep out of service", lambda: decide(Decision.KEEP_OUT)),
        decline=("Go back", nothing),
    )
    sheet.add_key("Return it in spite of this", lambda: decide(Decision.RETURN), once_read=True)
    sheet.open()
