"""What was not measured, what does not apply, the instruments, and the cautions."""

from collections.abc import Iterator, Sequence

from checks.assess import Row
from checks.record import Category, Instrument, StateEntry
from checks.verdict import Verdict
from fieldapp.report.columns import two_columns
from fieldapp.report.readings import noted
from fieldapp.report.sheet import SMALL, STRONG, Para, Sheet
from fieldapp.report.table import Table
from fieldapp.report.words import (
    Case,
    check_title,
    found_words,
    limits_gathered,
    sentence,
    superseded,
)


def not_measured(sheet: Sheet, case: Case) -> None:
    """Set the checks that apply and have no result, gathered by the reason."""
    sheet.section("Not measured, and why", 90)
    rows = case.assessment.unfinished
    if not rows:
        sheet.flow("Every check that applies was made.")
        return
    count = (
        "1 check applies here and has"
        if len(rows) == 1
        else f"{len(rows)} checks apply here, and have"
    )
    sheet.flow(
        f"{count} no result. They count as neither good nor bad: what they look at is not known."
    )
    columns = (("Check", 150.0), ("Why it has no result", 170.0), ("Limit it would meet", 200.0))
    sheet.y += 4
    with Table(sheet, columns).open() as table:
        for (reason, limits), here in _gathered(case, rows).items():
            table.row(
                [Para(f"{r.title} · {case.place(r.subject)}", style=STRONG) for r in here],
                [Para(reason)],
                *([[Para(said) for said in limits]] if limits else []),
                below=[para for row in here for para in _recorded(case, row)],
            )


def _gathered(case: Case, rows: Sequence[Row]) -> dict[tuple[str, tuple[str, ...]], list[Row]]:
    """Return the rows of one reason and of the same limits together, those of one reason next."""
    reasons: dict[str, dict[tuple[str, ...], list[Row]]] = {}
    for row in rows:
        reason = sentence(row.judgement.explanation) or "No reason given."
        limits = tuple(limits_gathered(row.judgement.limits, case.cite))
        reasons.setdefault(reason, {}).setdefault(limits, []).append(row)
    return {(why, lims): here for why, by in reasons.items() for lims, here in by.items()}


def _recorded(case: Case, row: Row) -> Iterator[Para]:
    entry = case.entries.get(row.entry) if row.entry is not None else None
    found = found_words(row.judgement)
    if found:
        yield Para(found, "Known so far", STRONG)
    if entry is not None:
        for label, text in case.answers(entry):
            yield Para(text, label)
        yield from noted(entry)
    for label, text in superseded(case, row):
        yield Para(text, label, color="ink_soft")


def not_applicable(sheet: Sheet, case: Case) -> None:
    """Set the checks that do not apply, gathered by reason."""
    sheet.section("Not applicable, and why")
    reasons: dict[str, dict[str, list[str]]] = {}
    for row in case.assessment.rows:
        if row.judgement.verdict is Verdict.NOT_APPLICABLE:
            titles = reasons.setdefault(row.judgement.explanation or "no reason given", {})
            titles.setdefault(row.title, []).append(case.place(row.subject))
    if not reasons:
        sheet.flow("Every check of the software applies here.")
        return
    with Table(sheet, (("Reason", 170.0), ("Checks", 350.0))).open() as table:
        for reason, titles in reasons.items():
            table.row(
                [Para(reason[0].upper() + reason[1:], style=STRONG)],
                [Para("; ".join(f"{t} ({', '.join(p)})" for t, p in titles.items()))],
            )


def instruments(sheet: Sheet, case: Case) -> None:
    """Set the instruments with category, accuracy and calibration."""
    sheet.section("Instruments", 80)
    if not case.visit.instruments:
        sheet.flow("None named. Readings carry the accuracy of a plain hand-held class.")
        return
    sheet.flow(
        "Accuracy is ±(% of reading + counts of the last digit). Generic: the accuracy of its "
        "class is taken; the maker's data sheet was not read.",
        SMALL,
        "ink_soft",
    )
    taken = {reading.instrument for reading in case.readings}
    used = [i for i in case.visit.instruments if i.id in taken]
    columns = (
        *(("Instrument", 132.0), ("Measurement category", 98.0)),
        *(("Calibration due", 74.0), ("Accuracy", 216.0)),
    )
    with Table(sheet, columns).open() as table:
        for each in used:
            named = [Para(each.name, style=STRONG), Para(_identity(case, each))]
            cells = (_category(each), _calibration(case, each), _accuracy(each))
            table.row(named, *([Para(text)] for text in cells))
    if len(used) < len(case.visit.instruments):
        sheet.y += 4
        idle = "; ".join(
            f"{i.name} ({' · '.join(filter(None, _in_short(case, i)))})"
            for i in case.visit.instruments
            if i.id not in taken
        )
        sheet.flow(f"Brought and not used: {idle}.", SMALL)


def _in_short(case: Case, each: Instrument) -> tuple[str, ...]:
    due = f"calibration due: {_calibration(case, each)}"
    return _identity(case, each), _category(each), due, _accuracy(each)


def _identity(case: Case, instrument: Instrument) -> str:
    kind = str(instrument.kind)
    used = sum(r.instrument == instrument.id for r in case.readings)
    parts = (
        "" if kind.lower() in instrument.name.lower() else kind,
        f"number {instrument.serial}" if instrument.serial else "",
        "" if not used else "1 reading" if used == 1 else f"{used} readings",
    )
    return " · ".join(filter(None, parts))


def _category(instrument: Instrument) -> str:
    if instrument.category == Category.NONE:
        return "no category"
    category, volts = instrument.category, instrument.rated_v
    return f"{category} up to {volts} V" if volts else str(category)


def _calibration(case: Case, instrument: Instrument) -> str:
    due = instrument.calibration_due
    late = ", past due at this visit" if instrument.is_overdue(case.visit.started) else ""
    return f"{due}{late}" if due else "not stated"


def _accuracy(instrument: Instrument) -> str:
    parts = [f"{a.dimension.name.lower().replace('_', ' ')}: {a}" for a in instrument.accuracy]
    stated = parts or ["none stated, a plain hand-held class is assumed"]
    return "; ".join((*stated, "generic") if instrument.is_generic else stated)


def cautions(sheet: Sheet, case: Case) -> None:
    """Set every caution with what it was acknowledged before, and the dangers that interrupted."""
    sheet.section("Cautions acknowledged", 80)
    acknowledged = _acknowledged(case)
    if not acknowledged:
        sheet.flow("None: no caution was shown.")
    _dangers(sheet, case)
    if not acknowledged:
        return
    sheet.y += 4
    sheet.flow("Each caution was acknowledged before what stands in brackets.", SMALL, "ink_soft")
    sheet.y += 2
    two_columns(
        sheet,
        [[Para(f"{text} [{'; '.join(before)}]") for text, before in acknowledged.items()]],
    )


def _acknowledged(case: Case) -> dict[str, list[str]]:
    """Return each caution with what it was acknowledged before."""
    texts: dict[str, list[str]] = {}
    for state in sorted(case.visit.states, key=lambda s: s.at):
        for text in state.cautions:
            texts.setdefault(text, []).append(f"{_state(case, state)}, {case.clock(state.at)}")
    for entry in sorted(case.visit.entries, key=lambda e: e.number):
        for text in entry.cautions:
            texts.setdefault(text, []).append(f"entry {entry.number}, {case.clock(entry.at)}")
    return texts


def _state(case: Case, state: StateEntry) -> str:
    return f"{case.place(state.point)}: {state.state}"


def _dangers(sheet: Sheet, case: Case) -> None:
    """Set what was answered when a danger interrupted the work."""
    for entry in sorted(case.visit.entries, key=lambda e: e.number):
        if entry.danger is not None:
            place = f"{check_title(entry.check, case.assessment)} · {case.place(entry.subject)}"
            answered = f"A danger interrupted the work. It was answered: {entry.danger}."
            sheet.paras([Para(f"{place}. {answered}", case.clock(entry.at))], label_width=48)
