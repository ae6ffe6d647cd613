"""What the verdicts rest on: the arithmetic, the code and what it leaves out, the sources."""

from collections.abc import Iterator
from typing import Final

from checks.assess import Row
from checks.source import Basis
from fieldapp.report.columns import two_columns
from fieldapp.report.layout import WIDTH
from fieldapp.report.sheet import SMALL, Para, Sheet, Style
from fieldapp.report.words import Case, workings

_TITLE: Final = Style("semibold", SMALL.size, SMALL.leading)


_BASES: Final = {
    Basis.LOOKED_UP: "Read in the text",
    Basis.FROM_MEMORY: "From memory, not read again",
    Basis.DOUBTFUL: "Doubtful: texts or readings of them disagree",
    Basis.COMMON_PRACTICE: "Common practice, no source",
    Basis.OWN_JUDGEMENT: "Own judgement, no source",
}


def arithmetic(sheet: Sheet, case: Case) -> None:
    """Set the workings of every check, so that each can be followed by hand."""
    sheet.section("How the numbers were worked out", 80)
    blocks = [
        [Para(f"{row.title} · {case.place(row.subject)}", style=_TITLE), *_lines(case, row)]
        for row in case.assessment.rows
        if workings(row.judgement)
    ]
    if not blocks:
        sheet.flow("No limit needed more than a look into its source.")
        return
    sheet.flow(
        "Limits first, then the value. A clause that stands alone is of the adopted code.", SMALL
    )
    sheet.y += 3
    two_columns(sheet, blocks)


def _lines(case: Case, row: Row) -> Iterator[Para]:
    adopted = f"{case.code.title} {case.code.edition} "
    return (Para(line.replace(adopted, ""), style=SMALL) for line in workings(row.judgement))


def code(sheet: Sheet, case: Case) -> None:
    """Set the code profile, what it does not cover, and what else the verdicts were made with."""
    profile = case.code
    left_out = [Para(text, "–", SMALL) for text in profile.not_covered]
    sheet.section("Code, and what it leaves out here", 56 + sheet.height(left_out, WIDTH, 12))
    sheet.flow(
        f"Judged by {profile.title}, edition {profile.edition} (profile {case.assessment.code}), "
        f"with software {case.assessment.software}. The adopted edition with its local amendments "
        "decides. This profile does not cover:"
    )
    sheet.paras(left_out, label_width=12)
    sheet.y += 4
    sheet.paras(
        [
            Para(f"{case.visit.id}, revision {case.visit.revision}", "Visit", SMALL),
            Para(case.record_hash, "SHA-256 of the record", SMALL),
        ],
        label_width=118,
    )


def sources(sheet: Sheet, case: Case) -> None:
    """Set every source once: the clauses of the code together, then the others by number."""
    sheet.section("Sources", 60)
    mine = [s for s in case.sources if case.is_code(s)]
    if mine:
        name = f"{case.code.title} {case.code.edition}"
        clauses = "; ".join(case.cite(s) for s in mine)
        sheet.flow(f"{name}: {clauses}.", SMALL)
        sheet.y += 4
    blocks: list[list[Para]] = []
    for basis, heading in _BASES.items():
        others = [s for s in case.sources if s.basis is basis and not case.is_code(s)]
        named = [Para(f"{case.cite(s)}  {case.plain(s)}", style=SMALL) for s in others]
        blocks += [[Para(heading, style=_TITLE), *named]] if named else []
    two_columns(sheet, blocks)
