"""What was corrected while the visit was open, and the entries that it left behind."""

from collections.abc import Iterator

from checks import codes
from checks.assess import trial
from checks.intake import BY_ID
from checks.path import subjects
from checks.record import ChargingPoint, Correction, Entry, Panel, Site, Visit
from checks.verdict import Judgement, Verdict
from fieldapp.language import Said, say
from fieldapp.report.paths import installed
from fieldapp.report.readings import noted
from fieldapp.report.sheet import STRONG, Para, Sheet
from fieldapp.report.table import Table
from fieldapp.report.words import Case, sentence

_UNSAID = "not said"


def corrections(sheet: Sheet, case: Case) -> None:
    """Set what stood before each correction and after it, and what is asked no more."""
    made = sorted(case.visit.corrections, key=lambda c: c.number)
    if not made:
        return
    sheet.section("Corrected during the visit", 90)
    sheet.flow(
        "What the visit was begun with and what was corrected later. Entries made before are "
        "judged by what stands now; where they looked at something else they are owed again."
    )
    sheet.y += 4
    columns = (("Corrected", 130.0), ("Before", 195.0), ("After", 195.0))
    with Table(sheet, columns).open() as table:
        for each in made:
            then, now = (case.visit.as_it_stood(n) for n in (each.number - 1, each.number))
            for what, before, after in _changes(each, then, now):
                where = Para(what, style=STRONG)
                table.row([where, Para(case.clock(each.at))], [Para(before)], [Para(after)])
    _left_behind(sheet, case)


def _changes(made: Correction, then: Visit, now: Visit) -> Iterator[tuple[str, str, str]]:
    """Yield where something was corrected, with the words before and after that differ."""
    if made.site is not None:
        yield "Site", *_unlike(_site(then.site), _site(now.site))
    if made.system is not None:
        yield "Supply at the service", then.system.value, now.system.value
    if made.code is not None:
        yield "Code", codes.profile(then.code).title, codes.profile(now.code).title
    for panel in made.panels:
        yield Said(panel.name), *_unlike(_panel(panel), _panel(now.panel(panel.id)))
    for point in made.points:
        before, after = _point(point, then), _point(now.point(point.id), now)
        yield Said(point.name), *_unlike(before, after)


def _unlike(before: list[str], after: list[str]) -> tuple[str, str]:
    gone = [words for words in before if words not in after]
    come = [words for words in after if words not in before]
    return Said(" · ".join(map(say, gone))), Said(" · ".join(map(say, come)))


def _site(site: Site) -> list[str]:
    return [
        f"Name: {site.name}",
        f"Address: {site.address or _UNSAID}",
        f"Owner: {site.owner or _UNSAID}",
        f"Authority: {site.authority or _UNSAID}",
        f"Permit number: {site.permit_number or _UNSAID}",
        site.occupancy.value,
    ]


def _panel(panel: Panel) -> list[str]:
    kind = "service equipment" if panel.is_service_equipment else "not the service equipment"
    return [f"Name: {panel.name}", kind]


def _point(point: ChargingPoint, visit: Visit) -> list[str]:
    fed = f"fed by {visit.panel(point.panel).name}"
    return [f"Name: {point.name}", fed, *installed(point).split(" · ")]


def _left_behind(sheet: Sheet, case: Case) -> None:
    """Set the entries whose check is asked no more, each as it was judged when it was made."""
    entries = [e for e in case.visit.entries if _is_left_behind(case, e)]
    if not entries:
        return
    sheet.y += 6
    sheet.flow(
        "Made for what is not installed, as it was corrected. They count for nothing here, and "
        "what they found may be so yet."
    )
    sheet.y += 4
    columns = (("Check", 150.0), ("As it was judged then", 170.0), ("Recorded", 200.0))
    with Table(sheet, columns).open() as table:
        for entry in sorted(entries, key=lambda e: e.number):
            judged = _judged_then(case.visit, entry)
            told = [Para(f"{judged.severity or judged.verdict}", style=STRONG)]
            told += [Para(sentence(judged.explanation))] if judged.explanation else []
            answers = [Para(text, label) for label, text in case.answers(entry)]
            made = Para(f"entry {entry.number}, {case.clock(entry.at)}")
            title = f"{BY_ID[entry.check].title} · {case.place(entry.subject)}"
            table.row([Para(title, style=STRONG)], told, [*answers, *noted(entry), made])


def _judged_then(visit: Visit, entry: Entry) -> Judgement:
    """Judge an entry by what stood when it was made, and by what was made before it."""
    then = visit.as_it_stood(entry.number)
    before = tuple(e for e in then.entries if e.number < entry.number)
    return trial(then.model_copy(update={"entries": before}), codes.profile(then.code), entry)


def _is_left_behind(case: Case, entry: Entry) -> bool:
    """Whether its station is not on the path, or its check does not apply, as it did then."""
    if case.visit.as_it_stood(entry.number) is case.visit:
        return False
    if entry.subject not in subjects(BY_ID[entry.check].station, case.visit):
        return True
    row = case.assessment.row(entry.check, entry.subject)
    return row.judgement.verdict is Verdict.NOT_APPLICABLE
