"""Asked before something is returned to service in spite of what was found there."""

from collections.abc import Callable
from typing import Final

from checks.assess import each_set_aside, kept_off, not_proved, set_aside, use
from checks.record import Decision
from checks.trends import standing_grave, stands_still
from checks.verdict import Severity
from fieldapp.screens.guide import Guide
from fieldapp.screens.phrases import sentence
from fieldapp.screens.sheets import Sheet, nothing

NOT_PROVED: Final = "What must stand before it carries current does not all stand."


def in_spite(guide: Guide, decide: Callable[[str], None]) -> bool:
    """Name every danger and warning, of earlier visits and set aside too, and all not proved; ask.

    The person decides, knowing it. False where nothing stands against it, and nothing is asked.

    Parameters
    ----------
    guide : Guide
        Of the open visit.
    decide : callable
        Gets the decision.
    """
    visit, assessment = guide.open_walk.visit, guide.open_walk.assessment
    grave = [f for f in assessment.findings if f.severity.is_grave]
    without = not_proved(visit, assessment)
    cautions = [(Severity.DANGER.value, sentence(why)) for why in kept_off(assessment)]
    cautions += [(str(f.severity), use(assessment)) for f in grave[:1]]
    words = [f"{f.row.title}: {sentence(f.row.judgement.explanation)}" for f in grave]
    before = standing_grave(guide.desk.reinspections(guide.open_walk), visit.kind)
    if before:
        cautions.append((str(before[0].before.severity), stands_still(before)))
    aside = assessment.may_be_so
    if aside:
        cautions.append((str(aside[0].severity), set_aside(visit, assessment)))
    words += each_set_aside(visit, assessment)
    if any(without):
        cautions.append((Severity.CAUTION.value, NOT_PROVED))
    if without.not_made:
        words.append(f"Not checked: {'; '.join(without.not_made)}.")
    if without.not_since:
        since = "; ".join(without.not_since)
        words.append(f"Checked, and the circuit switched off since: {since}.")
    if not cautions:
        return False
    sheet = Sheet(
        "Return to service in spite of this?",
        cautions=cautions,
        words=words,
        accept=("Keep out of service", lambda: decide(Decision.KEEP_OUT)),
        decline=("Go back", nothing),
        is_gated=False,  # the safe answer waits for nothing
    )
    sheet.add_key("Return it in spite of this", lambda: decide(Decision.RETURN), once_read=True)
    sheet.open()
    return True
