"""What was not measured, what does not apply, the instruments, and the cautions."""

from collections.abc import Callable, Iterator
from functools import partial

from checks.assess import Row
from checks.record import Instrument
from checks.verdict import Verdict
from fieldapp.report.blocks import block, entered, pictures
from fieldapp.report.layout import WIDTH
from fieldapp.report.sheet import LEAD, STRONG, Para, Sheet
from fieldapp.report.words import Case, check_title, limit_words


def not_measured(sheet: Sheet, case: Case, photo: Callable[[str], bytes] | None) -> None:
    """Set the checks that apply and have no result, with the reason."""
    sheet.section("Not measured, and why")
    rows = case.assessment.unfinished
    if not rows:
        sheet.flow("Every check that applies was made.")
        return
    sheet.flow(
        "These checks apply here and have no result. They count as neither good nor bad: "
        "what they look at is not known."
    )
    sheet.y += 4
    for row in rows:
        entry = case.entries.get(row.entry) if row.entry is not None else None
        block(
            sheet,
            Verdict.NOT_MEASURED,
            tuple(_missing(case, row)),
            after=partial(pictures, sheet, entry, photo),
        )


def _missing(case: Case, row: Row) -> Iterator[Para]:
    entry = case.entries.get(row.entry) if row.entry is not None else None
    yield Para(f"{row.title} · {case.place(row.subject)}", style=LEAD)
    yield Para(row.judgement.explanation, "Why")
    for limit in row.judgement.limits:
        yield Para(limit_words(limit), "Limit here")
    yield from entered(case, row, entry)


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
    for reason, titles in reasons.items():
        sheet.y += 3
        sheet.need(40)
        sheet.flow(reason[0].upper() + reason[1:], STRONG)
        sheet.flow("; ".join(f"{t} ({', '.join(p)})" for t, p in titles.items()))


def instruments(sheet: Sheet, case: Case) -> None:
    """Set the instruments with category, accuracy and calibration."""
    sheet.section("Instruments")
    if not case.visit.instruments:
        sheet.flow("None named. Readings carry the accuracy of a plain hand-held class.")
    for instrument in case.visit.instruments:
        paras = tuple(_instrument(case, instrument))
        sheet.y += 5
        sheet.need(sheet.height(paras, WIDTH, 0))
        sheet.paras(paras)


def _instrument(case: Case, instrument: Instrument) -> Iterator[Para]:
    serial = f", number {instrument.serial}" if instrument.serial else ""
    used = sum(r.instrument == instrument.id for r in case.readings)
    times = "1 reading" if used == 1 else f"{used} readings"
    yield Para(f"{instrument.name}{serial} · {times if used else 'not used'}", style=STRONG)
    category = f"measurement category {instrument.category}"
    if instrument.rated_v:
        category += f" up to {instrument.rated_v} V"
    due = instrument.calibration_due
    late = ", past due at this visit" if due and due < case.visit.started[:10] else ""
    calibration = f"calibration due {due}{late}" if due else "no calibration date stated"
    accuracy = "; ".join(
        f"{a.dimension.name.lower().replace('_', ' ')} ±({a.percent} % of reading + {a.counts} "
        f"{'count' if a.counts == 1 else 'counts'})"
        for a in instrument.accuracy
    )
    yield Para(f"{instrument.kind} · {category} · {calibration}")
    basis = " (a generic class; the maker's data sheet was not read)"
    yield Para(
        f"accuracy: {accuracy or 'none stated, a plain hand-held class is assumed'}"
        f"{basis if instrument.is_generic else ''}"
    )


def cautions(sheet: Sheet, case: Case) -> None:
    """Set when a circuit changed state, and every caution with the times it was acknowledged."""
    sheet.section("Circuit states and cautions acknowledged")
    for state in sorted(case.visit.states, key=lambda s: s.at):
        words = f"{case.place(state.point)}: {state.state}"
        sheet.paras([Para(words, case.clock(state.at), STRONG, before=3)])
        if state.brought_by:
            how = "found so" if state.is_found else "brought there or allowed"
            sheet.paras([Para(f"{how}, as told; by {state.brought_by}", " ")])
        for text in state.cautions:
            sheet.paras([Para(text, " ")])
    texts: dict[str, list[str]] = {}
    for entry in sorted(case.visit.entries, key=lambda e: e.number):
        for text in entry.cautions:
            texts.setdefault(text, []).append(f"entry {entry.number} at {case.clock(entry.at)}")
    for text, times in texts.items():
        sheet.y += 3
        sheet.need(30)
        sheet.flow(text)
        sheet.flow(f"Acknowledged before {', '.join(times)}.", color="ink_soft")
    _dangers(sheet, case)
    if not case.visit.states and not texts:
        sheet.flow("None: no circuit was brought into a state, and no caution was shown.")


def _dangers(sheet: Sheet, case: Case) -> None:
    """Set what was answered when a danger interrupted the work."""
    for entry in sorted(case.visit.entries, key=lambda e: e.number):
        if entry.danger is not None:
            place = f"{check_title(entry.check, case.assessment)} · {case.place(entry.subject)}"
            answered = f"A danger interrupted the work. It was answered: {entry.danger}."
            sheet.paras([Para(place, case.clock(entry.at), STRONG, before=3), Para(answered, " ")])
