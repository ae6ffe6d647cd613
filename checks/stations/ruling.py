"""From a yes or no of the code to a judgement."""

from checks.check import seen, unsettled
from checks.codes.answer import Outcome, Ruling
from checks.verdict import Judgement, Severity


def permitted(
    ruling: Ruling, *, why: str, remedy: str, severity: Severity = Severity.WARNING
) -> Judgement:
    """Return the judgement of a ruling that should be a yes.

    Parameters
    ----------
    ruling : Ruling
        What the code says; a rule that is read two ways is left to the authority.
    why, remedy : str
        Why it matters, and what to do when the code says no.
    severity : Severity
        How bad a no is.
    """
    if ruling.outcome is Outcome.READ_TWO_WAYS:
        return unsettled(
            f"Read two ways: {ruling.why}",
            "Ask the authority having jurisdiction",
            why=why,
            remedy=remedy,
            sources=ruling.sources,
        )
    judged = seen(
        ruling.outcome is Outcome.YES,
        explanation=_sentence(ruling.why),
        source=ruling.source,
        why=why,
        remedy=remedy,
        severity=severity,
    )
    return judged.model_copy(update={"sources": ruling.sources})


def _sentence(words: str) -> str:
    return words[:1].upper() + words[1:]
