"""Whether it may be used, as far as the findings say: under a signal word where it may not."""

from functools import partial

from kivy.uix.widget import Widget

from checks.assess import each_set_aside, kept_off, use
from checks.assess import told_aside as said_aside
from checks.intake import BY_ID
from checks.record import DangerAnswer
from checks.trends import standing_grave, stands_still
from fieldapp.screens.guide import Guide
from fieldapp.screens.interruptions import STAYS_ON_STILL
from fieldapp.screens.phrases import sentence
from fieldapp.walk.visit import Walk
from fieldapp.widgets import Card, SeverityBanner, Words


def standing(guide: Guide, role: str = "lead") -> list[Widget]:
    """Return what says whether it may be used; nothing where nothing was found.

    What an earlier visit found grave stands until somebody has looked again. Where somebody said
    that it cannot be switched off, nobody is told to switch it off. ``role`` is the size of the
    words.
    """
    walk, banner = guide.open_walk, partial(SeverityBanner, role=role)
    dangers = () if walk.is_signed else walk.dangers_begun
    is_on = walk.stays_on or any(e.danger is DangerAnswer.STAYS_ON for e in dangers)
    if is_on and not walk.is_signed:
        return [banner(severity="danger", text=STAYS_ON_STILL)]
    if dangers:
        begun = BY_ID[dangers[0].check].title
        text = f"Keep it off. A danger was found, and its check is not finished: {begun}."
        return [banner(severity="danger", text=text)]
    found, said = walk.assessment.findings, use(walk.assessment)
    grave = standing_grave(guide.desk.reinspections(walk), walk.visit.kind)
    off = kept_off(walk.assessment)
    banners: list[Widget] = [banner(severity="danger", text=sentence(why)) for why in off]
    if walk.assessment.is_grave:
        places = (walk.visit.name_of(f.row.subject) for f in found if f.severity.is_grave)
        where = ", ".join(dict.fromkeys(places)) if len(walk.visit.points) > 1 else ""
        text = f"{where}: {said}" if where else said
        banners.append(banner(severity=str(found[0].severity), text=text))
    if grave:
        worst = str(grave[0].before.severity)
        banners.append(banner(severity=worst, text=stands_still(grave)))
    return banners or ([Words(text=said)] if found else [])


def told_aside(walk: Walk) -> list[Widget]:
    """Return what was found grave and was set aside by a correction: all of it, one by one.

    It is told where the visit is summed up and decided on, and not on the way: nobody can look
    again at what is not here.
    """
    if not walk.assessment.set_aside:
        return []
    card = Card()
    for said in each_set_aside(walk.visit, walk.assessment):
        card.add_widget(Words(text=sentence(said)))
    banners = [
        SeverityBanner(severity=str(severity), text=said, role="lead")
        for severity, said in said_aside(walk.visit, walk.assessment)
    ]
    return [*banners, card]
