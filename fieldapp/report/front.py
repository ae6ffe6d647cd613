"""The first page: the verdict in words and shape, what to do, the path, and who was there."""

from collections.abc import Sequence
from datetime import datetime
from itertools import groupby
from typing import Final

from checks.assess import (
    Finding,
    NotProved,
    each_set_aside,
    kept_off,
    meaning,
    not_proved,
    told_aside,
    use,
)
from checks.causes import Status
from checks.record import Decision
from checks.stations.all import BY_ID
from checks.trends import standing_grave, stands_still
from checks.verdict import WORST_FIRST, Severity, Verdict
from fieldapp.figures.marks import color_of, severity_mark, verdict_mark
from fieldapp.language import Said
from fieldapp.report.layout import BOTTOM, LEFT, RIGHT, SPINE, WIDTH
from fieldapp.report.paths import path_strip, points_in_short
from fieldapp.report.sheet import BODY, LEAD, SMALL, STRONG, TITLE, Para, Sheet, Style
from fieldapp.report.table import Shaped, Table
from fieldapp.report.words import Case, full_time, sentence

_MARK: Final = 24.0  # a mark's own size [unit]
_BIG: Final = Style("semibold", 21.0, 26.0)
_NUMBER: Final = Style("semibold", 18.0, 22.0)
_DECISION: Final = Style("semibold", 13.0, 16.0)
_BELOW: Final = 148.0  # what must find room below the findings, beside the paths [pt]
_PATH, _POINT, _POINTS = 104.0, 28.0, 6  # a path's height; a point's in a list, and how many [pt]
_WITHOUT: Final = 5  # checks that are named of those
_NAMED: Final = 3  # lines for what was not measured, and items of what was set aside


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
    _verdict(sheet, case)
    _decision(sheet, case)
    _out_of_time(sheet, case)
    count = min(len(case.assessment.points), _POINTS)
    paths = _PATH if count == 1 else _POINT * (count + 1)
    _findings_in_short(sheet, case, BOTTOM - _BELOW - paths)
    _set_aside(sheet, case)
    _mended(sheet, case)
    _not_measured(sheet, case)
    _paths(sheet, case)
    _facts(sheet, case)


def _findings_in_short(sheet: Sheet, case: Case, bottom: float) -> None:
    """List the findings with what to do, no more than there is room for."""
    alike = _alike(case.assessment.findings)
    if not alike:
        return
    sheet.y += 8
    columns = (("Found", 84.0), ("Where", 160.0), ("What to do", 276.0))
    left = len(alike)
    with Table(sheet, columns).open() as table:
        for numbered in alike:
            if sheet.y + 3 * SMALL.leading > bottom and left > 1:
                break
            left -= 1
            finding = numbered[0][1]
            word = str(finding.severity)
            numbers = ", ".join(str(n) for n, _ in numbered)
            places = ", ".join(case.place(f.row.subject) for _, f in numbered)
            judgement = finding.row.judgement
            table.row(
                [Shaped(word, style=STRONG, shape=severity_mark(word))],
                [Para(f"{numbers}  {finding.row.title} · {places}", style=STRONG)],
                [Para(sentence(judgement.remedy or judgement.settles))],
            )
    more = sum(map(len, alike[len(alike) - left :]))
    if more:
        sheet.flow(f"and {more} more, listed under Findings.", SMALL)


def _alike(findings: Sequence[Finding]) -> list[list[tuple[int, Finding]]]:
    """Return findings with their numbers, those of one check with one remedy together."""

    def kind(numbered: tuple[int, Finding]) -> tuple[Severity, str, str]:
        severity, row = numbered[1].severity, numbered[1].row
        return severity, row.check, row.judgement.remedy

    return [list(group) for _, group in groupby(enumerate(findings, 1), key=kind)]


def mark(sheet: Sheet, verdict: Verdict, x: float, y: float, size: float) -> None:
    """Draw a verdict's shape with its top left corner at a place."""
    sheet.scene(verdict_mark(verdict), x, y, size / _MARK)


def _title(sheet: Sheet, case: Case) -> None:
    sheet.pdf.set_y(sheet.y)
    sheet.pdf.start_section("Summary")
    sheet.y -= 12
    sheet.flow(f"Charging report: {case.visit.kind}", STRONG, "accent")
    middle = sheet.y + TITLE.leading * 0.75 - TITLE.size * 0.35
    sheet.disc((SPINE, middle), 8, "accent")
    sheet.disc((SPINE, middle), 4, "surface")
    sheet.flow(Said(case.visit.site.name), TITLE)
    if case.visit.site.address:
        sheet.flow(Said(case.visit.site.address), LEAD, "ink_soft")
    amends = case.visit.amends
    if amends is not None:
        sheet.flow(f"Amends the signed visit {amends.visit}: {sentence(amends.what)}", STRONG)
        sheet.flow(
            "The signed report of that visit stands for all that was not made again here."
            f" SHA-256 of its record: {amends.sha256}",
            SMALL,
        )
    sheet.y += 6


def signal(sheet: Sheet, case: Case) -> None:
    """Set whether it may be used under its signal word, where it may not."""
    for why in kept_off(case.assessment):
        _banner(sheet, Severity.DANGER.upper(), sentence(why), Severity.DANGER)
    if case.assessment.is_grave:
        severity = case.assessment.findings[0].severity
        _banner(sheet, severity.upper(), use(case.assessment), severity)
    before = standing_grave(case.again, case.visit.kind)
    if before:
        severity = before[0].before.severity or Severity.WARNING
        _banner(sheet, severity.upper(), stands_still(before), severity)
    for severity, said in told_aside(case.visit, case.assessment):
        _banner(sheet, severity.upper(), said, severity)
    signoff = case.visit.signoff
    without = not_proved(case.visit, case.assessment)
    if signoff is not None and signoff.decision is Decision.RETURN and any(without):
        _banner(sheet, Severity.CAUTION.upper(), _without(without))


def _without(what: NotProved) -> str:
    """Say what it was returned to service without."""
    said = []
    if what.not_made:
        said.append(
            "Returned to service, though this must stand before it carries current and was not "
            f"checked on this visit: {_few(what.not_made, _WITHOUT)}."
        )
    if what.not_since:
        said.append(
            "Returned to service, though this was checked before the circuit was last switched off "
            f"and not since: {_few(what.not_since, _WITHOUT)}."
        )
    return " ".join(said)


def _few(told: Sequence[str], most: int) -> str:
    """Name some, and say how many more there are."""
    named = "; ".join(told[:most])
    return f"{named}; and {len(told) - most} more" if len(told) > most else named


def _banner(sheet: Sheet, word: str, text: str, color: str = "caution") -> None:
    word += "  "
    indent = sheet.width(word, STRONG)
    lines = sheet.lines(text, WIDTH - 20 - indent, BODY)
    height = 8 + BODY.leading * len(lines)
    sheet.box(LEFT, sheet.y, WIDTH, height, fill=color)
    sheet.box(LEFT, sheet.y, WIDTH, height, edge="ink")
    top = sheet.y
    sheet.put(LEFT + 10, top + 4 + BODY.leading * 0.75, word, STRONG, f"on_{color}")
    for i, line in enumerate(lines):
        baseline = top + 4 + BODY.leading * (i + 0.75)
        sheet.put(LEFT + 10 + indent, baseline, line, BODY, f"on_{color}")
    sheet.y = top + height + 6


def _verdict(sheet: Sheet, case: Case) -> None:
    verdict = case.assessment.verdict
    signal(sheet, case)
    sheet.rule("ink", 1.2)
    sheet.y += 8
    mark(sheet, verdict, LEFT, sheet.y + 2, 36)
    x = LEFT + 50
    sheet.flow(verdict, _BIG, color_of(verdict), x, WIDTH - 50)
    told = "" if case.assessment.is_grave else use(case.assessment)
    for said in filter(None, (meaning(case.assessment), told)):
        sheet.flow(said, STRONG, "ink", x, WIDTH - 50)
    sheet.y += 8
    _counts(sheet, case)
    sheet.flow(by_severity(case))


def _counts(sheet: Sheet, case: Case) -> None:
    """Set how many checks have each verdict, in one line with equal gaps."""
    counts = [(v, str(case.count(v))) for v in WORST_FIRST]
    widths = [29 + sheet.width(n, _NUMBER) + sheet.width(v, SMALL) for v, n in counts]
    gap = (WIDTH - sum(widths)) / (len(counts) - 1)
    x = LEFT
    for (verdict, number), width in zip(counts, widths, strict=True):
        mark(sheet, verdict, x, sheet.y + 2, 18)
        sheet.put(x + 24, sheet.y + 17, number, _NUMBER, color_of(verdict))
        sheet.put(x + width, sheet.y + 17, verdict, SMALL, color_of(verdict), "end")
        x += width + gap
    sheet.y += 26


def by_severity(case: Case) -> str:
    """Count the findings of each severity, and those that earlier visits let expect."""
    found = _counted([f.severity for f in case.assessment.findings])
    aside = _counted([each.finding.severity for each in case.assessment.may_be_so])
    said = f"Findings by severity: {found}." if found else "No findings."
    if aside and not found:
        said = "No findings stand."
    if aside:
        said += f" Set aside by a correction: {aside}."
    left_open = sum(r.is_open for r in case.again)
    if left_open:
        said += f" Found earlier and not inspected again: {left_open}."
    to_come = _counted([t.severity for t in case.trends if t.severity is not None])
    if to_come:
        said += f" To come if the trend goes on: {to_come}."
    return said


def _counted(severities: Sequence[Severity]) -> str:
    return ", ".join(f"{severities.count(s)} {s}" for s in Severity if s in severities)


def _waiting(case: Case) -> str:
    waiting = case.count(Verdict.NOT_MEASURED)
    checks = "1 check that applies has" if waiting == 1 else f"{waiting} checks that apply have"
    return f"{checks} no result: nothing here says that what they look at is good."


def _decision(sheet: Sheet, case: Case) -> None:
    signoff = case.visit.signoff
    sheet.y += 6
    top, height = sheet.y, 42.0
    sheet.box(LEFT, top, WIDTH, height, edge="ink")
    sheet.put(LEFT + 10, top + 14, "Decision on return to service", SMALL, "ink_soft")
    words = str(signoff.decision) if signoff else "none recorded"
    sheet.put(LEFT + 10, top + 32, words, _DECISION)
    by = (
        f"{case.visit.technician.name}, {full_time(signoff.at)}"
        if signoff
        else "the visit has not been signed off"
    )
    after = LEFT + 20 + sheet.width(words, _DECISION)
    said = sheet.lines(by, RIGHT - 10 - after, SMALL)[0]
    sheet.put(RIGHT - 10, top + 32, said, SMALL, "ink_soft", "end")
    note = "Decided by a person, not by software"
    sheet.put(RIGHT - 10, top + 14, note, SMALL, "ink_soft", "end")
    sheet.y = top + height


def _out_of_time(sheet: Sheet, case: Case) -> None:
    """Say where the times cannot be right: before the visit began, or after its sign-off."""
    signoff = case.visit.signoff
    began = datetime.fromisoformat(case.visit.started)
    ended = datetime.fromisoformat(signoff.at) if signoff else None
    odd = [
        f"entry {e.number}, {full_time(e.at)}"
        for e in case.visit.entries
        if datetime.fromisoformat(e.at) < began
        or (ended is not None and datetime.fromisoformat(e.at) > ended)
    ]
    if ended is not None and ended < began:
        odd.insert(0, f"the sign-off, {full_time(ended.isoformat())}")
    if odd:
        named = _few(odd, _NAMED)
        said = f"Times that cannot be right beside the visit's begin and sign-off: {named}."
        sheet.y += 6
        sheet.flow(said, STRONG, "caution")


def _set_aside(sheet: Sheet, case: Case) -> None:
    """Say what was found of what corrections set aside, no more of it than there is room for."""
    told = each_set_aside(case.visit, case.assessment)
    if not told:
        return
    sheet.y += 8
    for said in told[:_NAMED]:
        sheet.flow(sentence(said), SMALL)
    more = len(told) - _NAMED
    if more > 0:
        sheet.flow(f"and {more} more, listed under Findings.", SMALL)


def _mended(sheet: Sheet, case: Case) -> None:
    """Name what was found outside and is within since it was mended; nothing is dropped unsaid."""
    rows = [
        r.after
        for r in case.assessment.repeats
        if r.before.judgement.verdict is Verdict.OUTSIDE
        and r.after.judgement.verdict is Verdict.WITHIN
    ]
    if not rows:
        return
    sheet.y += 8
    mark(sheet, Verdict.WITHIN, LEFT, sheet.y + 1, 10)
    names = "; ".join(f"{row.title} ({case.place(row.subject)})" for row in rows)
    proven = [r.causes[0].title for r in case.assessment.causes if r.status is Status.PROVEN]
    said = f"Found outside, mended on this visit: {names}."
    said += "".join(f" Proven cause: {title[:1].lower()}{title[1:]}." for title in proven)
    said += " See Before and after mending."
    sheet.flow(said, SMALL, "ink", LEFT + 16, WIDTH - 16)


def _not_measured(sheet: Sheet, case: Case) -> None:
    rows = case.assessment.unfinished
    if not rows:
        return
    sheet.y += 8
    first = sorted(rows, key=lambda row: not (row.check in BY_ID and BY_ID[row.check].gates))
    names = "; ".join(f"{row.title} ({case.place(row.subject)})" for row in first)
    said = f"{_waiting(case)} Not measured: {len(rows)}. {names}."
    lines = sheet.lines(said, WIDTH - 16, SMALL)
    mark(sheet, Verdict.NOT_MEASURED, LEFT, sheet.y + 1, 10)
    shown = lines[:_NAMED]
    for line in shown:
        sheet.flow(line, SMALL, "ink", LEFT + 16, WIDTH - 16)
    if len(lines) > len(shown):
        sheet.flow("… and more, all with their reasons below.", SMALL, "ink", LEFT + 16)


def _paths(sheet: Sheet, case: Case) -> None:
    """Set the path of the one charging point, or of several where each stands, as far as fits."""
    sheet.heading("The path of the current", 70)
    points = case.assessment.points
    if len(points) == 1:
        path_strip(sheet, points[0], case.visit.point(points[0].point))
    else:
        points_in_short(sheet, case)


def _facts(sheet: Sheet, case: Case) -> None:
    visit, site, person = case.visit, case.visit.site, case.visit.technician
    where = [
        ("Place", str(site.occupancy)),
        ("Owner", site.owner),
        ("Authority", site.authority or "not stated"),
        ("Permit", site.permit_number or "not stated"),
        ("Supply", str(visit.system)),
        ("Report made", full_time(case.at)),
    ]
    who = [
        ("Technician", person.name),
        ("License", person.license_number or "not stated"),
        ("Company", person.company),
        ("Role", f"{visit.role}{'' if visit.role.opens else ', opens no enclosure'}"),
        ("Visit began", full_time(visit.started)),
        ("Signed off", full_time(visit.signoff.at) if visit.signoff else "not signed off"),
        ("Witness", str(visit.signoff.witness or "") if visit.signoff else ""),
    ]
    half = (WIDTH - 22.0) / 2
    columns = [
        [Para(text, label, style=SMALL) for label, text in facts if text] for facts in (where, who)
    ]
    sheet.y += 6
    sheet.need(max(sheet.height(paras, half, 68) for paras in columns) + 6)
    sheet.rule()
    top = sheet.y = sheet.y + 4
    bottoms = []
    for x, paras in zip((LEFT, RIGHT - half), columns, strict=True):
        sheet.y = top
        sheet.paras(paras, x, half, 68)
        bottoms.append(sheet.y)
    sheet.y = max(bottoms)
