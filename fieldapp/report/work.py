"""What is left to be done, in the order of the work."""

from itertools import groupby
from typing import Final

from checks.assess import work
from fieldapp.report.sheet import SMALL, STRONG, Para, Sheet
from fieldapp.report.table import Table
from fieldapp.report.words import Case, sentence

_COLUMNS: Final = (("Check", 190.0), ("What to do", 330.0))


def work_in_order(sheet: Sheet, case: Case) -> None:
    """Set what the findings ask for and what was left out; nothing where nothing is left."""
    tasks = work(case.assessment)
    if not tasks:
        return
    sheet.section("Work to do", 110)
    sheet.flow(
        "What the findings ask for, and the checks to be made again or still to be made, by the "
        "state that each asks for. It is no work order: who may open and switch here decides.",
        SMALL,
        "ink_soft",
    )
    sheet.y += 4
    with Table(sheet, _COLUMNS).open() as table:
        for number, (part, those) in enumerate(groupby(tasks, key=lambda task: task.part), 1):
            rule = part.rule(case.assessment)
            table.band(f"{number}. {part}")
            if rule:
                table.row([Para(rule, style=STRONG)])
            for task in those:
                row = task.row
                found = case.finding_numbers.get((row.check, row.subject))
                name = f"{row.title} · {case.place(row.subject)}"
                table.row(
                    [Para(f"{found}  {name}" if found else name, style=STRONG)],
                    [Para(sentence(task.told))],
                )
    unbegun = sum(row.entry is None for row in case.assessment.unfinished)
    if unbegun:
        said = f"Checks that apply and that nobody began: {unbegun}, under Not measured."
        sheet.flow(said, SMALL)
