"""A service call on paper: the causes with their evidence, and what was mended."""

from collections.abc import Iterator, Sequence
from typing import Final

from checks.assess import Repeat
from checks.causes import Ground, RankedCause, Ranking, Status
from checks.path import subjects_at
from checks.stations.all import BY_ID
from checks.stations.repair import CHECK as REPAIR
from checks.verdict import Judgement, Verdict
from fieldapp.figures.marks import color_of, verdict_mark
from fieldapp.report.layout import WIDTH
from fieldapp.report.sheet import LEAD, SMALL, STRONG, Para, Sheet
from fieldapp.report.table import Shaped, Table
from fieldapp.report.words import Case, found_words, sentence

_LABELS: Final = 84.0
_SAID: Final = {
    Status.UNTOLD: "No symptom was recorded; no cause was looked for.",
    Status.OPEN: "Not settled: tests that could tell more were not made.",
    Status.PROVEN: "Proven.",
    Status.STUCK: "Not settled: what is left could not be told apart here.",
}
_COLUMNS: Final = (("Check", 120.0), ("As found", 200.0), ("After mending", 200.0))


def causes(sheet: Sheet, case: Case) -> None:
    """Set, for a service call, the causes of each charging point's fault as it was found."""
    for ranking in case.assessment.causes:
        sheet.section(f"Likely causes: {ranking.name}", 120)
        sheet.flow(_SAID[ranking.status], STRONG)
        if ranking.status is Status.UNTOLD:
            continue
        sheet.flow(
            "Ranked by everything that was seen and measured before anything was mended. What "
            "speaks for and against each is said beside it; a likely cause is not a proven one.",
            SMALL,
            "ink_soft",
        )
        for cause in ranking.causes:
            paras = tuple(_cause(case, cause))
            sheet.need(sheet.height(paras, WIDTH, _LABELS))
            sheet.paras(paras, label_width=_LABELS)
        sheet.paras(tuple(_rest(case, ranking)), label_width=_LABELS)


def repeats(sheet: Sheet, case: Case) -> None:
    """Set what was made again after mending beside what was found; nothing where nothing was."""
    made = case.assessment.repeats
    if not made:
        return
    sheet.section("Before and after mending", 120)
    for ranking in case.assessment.causes:
        done = case.assessment.row(REPAIR, ranking.point)
        if done.entry is not None:
            sheet.flow(f"{ranking.name}: {sentence(done.judgement.explanation)}", STRONG)
            sheet.y += 4
    with Table(sheet, _COLUMNS).open() as table:
        for repeat in made:
            name = f"{repeat.after.title} · {case.place(repeat.after.subject)}"
            before, after = (tuple(_judged(r.judgement)) for r in (repeat.before, repeat.after))
            table.row([Para(name, style=STRONG)], before, after, below=_numbers(repeat))
    only_after = [
        f"{v.title}: {sentence(v.after)}"
        for ranking in case.assessment.causes
        for v in (ranking.causes[0].verify if ranking.causes else ())
        if v.is_repeated and not v.before
    ]
    if only_after:
        sheet.y += 6
        sheet.flow("Made after mending only, with nothing as found to hold it against:", SMALL)
        for line in only_after:
            sheet.flow(line)


def _cause(case: Case, cause: RankedCause) -> Iterator[Para]:
    station = cause.station.value.capitalize()
    yield Para(f"{cause.title} · {station} · {cause.standing}", "", LEAD, before=8)
    yield Para(sentence(cause.explanation))
    yield from _grounds(cause.speaks_for, "Speaks for it")
    yield from _grounds(cause.speaks_against, "Against it")
    if cause.standing == "proven":
        yield Para(sentence(cause.remedy), "Remedy", STRONG)
        missing = [v.title for v in cause.verify if not v.is_repeated]
        if missing:
            yield Para(f"{', '.join(missing)}.", "Not repeated")
    else:
        is_made = any(e.check == cause.settles for e in case.visit.entries)
        made = "made" if is_made else "not made"
        yield Para(f"{cause.settles_title} ({made}).", "Settled by", SMALL)


def _grounds(grounds: Sequence[Ground], label: str) -> Iterator[Para]:
    if grounds:
        yield Para(f"{'; '.join(f'{g.words} ({g.weight})' for g in grounds)}.", label)


def _rest(case: Case, ranking: Ranking) -> Iterator[Para]:
    if ranking.likeliest_two:
        yield Para(f"{' and '.join(ranking.likeliest_two)}.", "Two at once", before=8)
    yield Para("Not ruled out.", "None of these", before=0 if ranking.likeliest_two else 8)
    here = subjects_at(case.visit.point(ranking.point)).values()
    clued = {g.check for c in ranking.causes for g in (*c.speaks_for, *c.speaks_against)}
    made = dict.fromkeys(
        BY_ID[e.check].title
        for e in case.visit.entries
        if e.subject in here and e.check in clued and e.not_done is None
    )
    if made:
        yield Para(f"{', '.join(made)}.", "Tests made")
    if ranking.next_test is not None and ranking.status is not Status.PROVEN:
        yield Para(f"{ranking.next_test.title}.", "Next best test")
    for reason in ranking.barred:
        yield Para(sentence(reason), "Not allowed")


def _judged(judged: Judgement) -> Iterator[Para]:
    word = str(judged.verdict)
    yield Shaped(word, style=STRONG, color=color_of(word), shape=verdict_mark(word))
    found = found_words(judged)
    if found:
        yield Para(found, style=STRONG)
    yield Para(sentence(judged.explanation))


def _numbers(repeat: Repeat) -> tuple[Para, ...]:
    text = f"Entry {repeat.before.entry}, repeated as entry {repeat.after.entry}."
    if repeat.is_told_once:
        text = f"Entry {repeat.before.entry}, told and not measured: nothing is repeated of it."
    if repeat.after.judgement.verdict is Verdict.OUTSIDE:
        text += " Still outside: it is not mended, or another cause is at work."
    return (Para(text, color="ink_soft"),)
