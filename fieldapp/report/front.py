"""The first page: what was visited, the verdict in words and shape, and the person's decision."""

from checks.verdict import WORST_FIRST, Severity, Verdict
from fieldapp.figures import color_of, severity_mark, verdict_mark
from fieldapp.report.layout import BOTTOM, LEFT, RIGHT, SPINE, WIDTH
from fieldapp.report.sheet import BODY, LEAD, SMALL, STRONG, TITLE, Para, Sheet, Style
from fieldapp.report.words import Case, full_time

_MARK = 24.0  # a mark's own size [unit]
_BIG = Style("semibold", 21.0, 26.0)
_NUMBER = Style("semibold", 20.0, 24.0)

_MEANING = {
    Verdict.OUTSIDE: "Something lies outside its limit. See the findings.",
    Verdict.BORDERLINE: "Something cannot be told from its limit. See what would settle it.",
    Verdict.NOT_MEASURED: "Nothing wrong was found, but checks that apply were not made.",
    Verdict.WITHIN: "Every check that applies was made and lies within its limits.",
    Verdict.NOT_APPLICABLE: "No check applies to what was recorded.",
}


def front(sheet: Sheet, case: Case) -> None:
    """Set the first page."""
    _title(sheet, case)
    if case.visit.is_invented:
        _banner(
            sheet,
            "INVENTED",
            "A demonstration: people, place and readings are made up. "
            "It says nothing about any real installation.",
        )
    if case.visit.signoff is None:
        _banner(sheet, "NOT SIGNED OFF", "A draft: nobody has taken responsibility for it yet.")
    _facts(sheet, case)
    _verdict(sheet, case)
    _decision(sheet, case)
    findings_in_short(sheet, case, BOTTOM)


def findings_in_short(sheet: Sheet, case: Case, bottom: float) -> None:
    """List the findings a line each, no more than there is room for."""
    findings = case.assessment.findings
    sheet.y += 10
    for i, finding in enumerate(findings):
        if sheet.y + 2 * BODY.leading + 4 > bottom and i + 1 < len(findings):
            sheet.flow(f"and {len(findings) - i} more, listed under Findings.")
            return
        row = finding.row
        words = sheet.lines(f"{row.title} · {case.place(row.subject)}", WIDTH - 84)[0]
        sheet.scene(severity_mark(finding.severity), LEFT, sheet.y + 3, 11 / _MARK)
        baseline = sheet.y + BODY.leading * 0.75 + 2
        sheet.put(LEFT + 17, baseline, str(finding.severity), STRONG)
        sheet.put(LEFT + 84, baseline, words)
        sheet.y += BODY.leading + 3


def mark(sheet: Sheet, verdict: Verdict, x: float, y: float, size: float) -> None:
    """Draw a verdict's shape with its top left corner at a place."""
    sheet.scene(verdict_mark(verdict), x, y, size / _MARK)


def _title(sheet: Sheet, case: Case) -> None:
    sheet.pdf.set_y(sheet.y)
    sheet.pdf.start_section("Summary")
    kind = str(case.visit.kind)
    sheet.flow(f"Charging report: {kind}", STRONG, "accent")
    sheet.y += 2
    middle = sheet.y + TITLE.leading * 0.75 - TITLE.size * 0.35
    sheet.disc((SPINE, middle), 8, "accent")
    sheet.disc((SPINE, middle), 4, "surface")
    sheet.flow(case.visit.site.name, TITLE)
    if case.visit.site.address:
        sheet.flow(case.visit.site.address, LEAD, "ink_soft")
    sheet.y += 8


def _banner(sheet: Sheet, word: str, text: str) -> None:
    room = WIDTH - 24
    lines = sheet.lines(text, room, BODY)
    height = 12 + LEAD.leading + BODY.leading * len(lines)
    sheet.box(LEFT, sheet.y, WIDTH, height, fill="caution")
    sheet.box(LEFT, sheet.y, WIDTH, height, edge="ink")
    bottom = sheet.y + height
    sheet.y += 5
    sheet.flow(word, LEAD, "on_caution", LEFT + 12, room)
    sheet.flow(text, BODY, "on_caution", LEFT + 12, room)
    sheet.y = bottom + 10


def _facts(sheet: Sheet, case: Case) -> None:
    visit, site, person = case.visit, case.visit.site, case.visit.technician
    where = [
        ("Kind of place", str(site.occupancy)),
        ("Owner", site.owner),
        ("Authority having jurisdiction", site.authority or "not stated"),
        ("Permit", site.permit_number or "not stated"),
        ("Supply", str(visit.system)),
        ("Charging points", ", ".join(p.name for p in visit.points)),
    ]
    who = [
        ("Technician", person.name),
        ("License", person.license_number or "not stated"),
        ("Company", person.company),
        ("Role", f"{visit.role}{'' if visit.role.opens else ', opens no enclosure'}"),
        ("Visit began", full_time(visit.started)),
        ("Signed off", full_time(visit.signoff.at) if visit.signoff else "not signed off"),
        ("Report made", full_time(case.at)),
        ("Judged by", f"profile {case.assessment.code}, software {case.assessment.software}"),
        ("Visit", f"{visit.id}, revision {visit.revision}"),
    ]
    gap = 22.0
    half = (WIDTH - gap) / 2
    top = sheet.y
    bottoms = []
    for x, facts in ((LEFT, where), (LEFT + half + gap, who)):
        sheet.y = top
        sheet.paras([Para(text, label, before=1.5) for label, text in facts if text], x, half, 82)
        bottoms.append(sheet.y)
    sheet.y = max(bottoms) + 6
    sheet.paras([Para(case.record_hash, "SHA-256 of the record", style=SMALL)], label_width=118)
    sheet.y += 10


def _verdict(sheet: Sheet, case: Case) -> None:
    verdict = case.assessment.verdict
    sheet.need(150)
    sheet.rule("ink", 1.2)
    sheet.y += 12
    mark(sheet, verdict, LEFT, sheet.y, 38)
    x = LEFT + 52
    sheet.flow(verdict, _BIG, color_of(verdict), x, WIDTH - 52)
    sheet.flow(_MEANING[verdict], BODY, "ink", x, WIDTH - 52)
    sheet.y += 12
    _counts(sheet, case)
    waiting = case.count(Verdict.NOT_MEASURED)
    if waiting:
        checks = "1 check that applies has" if waiting == 1 else f"{waiting} checks that apply have"
        sheet.flow(f"{checks} no result. Nothing here says that what they look at is good.")
    sheet.flow(_by_severity(case))


def _counts(sheet: Sheet, case: Case) -> None:
    cell = WIDTH / len(WORST_FIRST)
    for i, verdict in enumerate(WORST_FIRST):
        x = LEFT + i * cell
        mark(sheet, verdict, x, sheet.y + 2, 18)
        sheet.put(x + 25, sheet.y + 18, str(case.count(verdict)), _NUMBER, color_of(verdict))
        sheet.put(x, sheet.y + 34, verdict, STRONG, color_of(verdict))
    sheet.y += 42


def _by_severity(case: Case) -> str:
    counts = [(sum(f.severity is s for f in case.assessment.findings), str(s)) for s in Severity]
    said = ", ".join(f"{n} {word}" for n, word in counts if n)
    return f"Findings by severity: {said}." if said else "No findings."


def _decision(sheet: Sheet, case: Case) -> None:
    signoff = case.visit.signoff
    sheet.y += 10
    sheet.need(64)
    top = sheet.y
    height = 58.0
    sheet.box(LEFT, top, WIDTH, height, edge="ink")
    sheet.put(LEFT + 12, top + 17, "Decision on return to service", SMALL, "ink_soft")
    words = str(signoff.decision) if signoff else "none recorded"
    sheet.put(LEFT + 12, top + 35, words, Style("semibold", 15.0, 18.0))
    by = (
        f"by {case.visit.technician.name}, {full_time(signoff.at)}"
        if signoff
        else "the visit has not been signed off"
    )
    sheet.put(LEFT + 12, top + 49, sheet.lines(by, WIDTH - 24, SMALL)[0], SMALL, "ink_soft")
    note = "Decided by a person, not by software"
    sheet.put(RIGHT - 12, top + 17, note, SMALL, "ink_soft", "end")
    sheet.y = top + height
