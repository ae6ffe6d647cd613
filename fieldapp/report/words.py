"""The report's sentences: what was recorded and judged, in words; no page, no drawing."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Final

from checks import codes
from checks.assess import Assessment, Row
from checks.check import AnyInput, Choice, Measurement, YesNo
from checks.codes.profile import CodeProfile
from checks.quantity import default_accuracy
from checks.record import (
    SITE,
    Answer,
    Chosen,
    Entry,
    Instrument,
    Reading,
    Readings,
    Visit,
    Worded,
    YesNoAnswer,
)
from checks.source import Basis, Source
from checks.stations.all import BY_ID
from checks.trends import PointTrend, Reinspection
from checks.units import UNITS
from checks.verdict import Force, Judgement, Limit, Verdict
from fieldapp.report.embedded import digest, document

DEFERENCE: Final = (
    "The locally adopted code, the authority having jurisdiction, the listing, the makers' "
    "instructions and licensed practice decide. This report records; it overrules none of them."
)
NO_INSTRUMENT: Final = "no instrument named"


@dataclass(frozen=True)
class Case:
    """One report's matter: the record, what it means, and when and under which key it is made."""

    visit: Visit
    assessment: Assessment
    at: str
    fingerprint: str
    trends: Sequence[PointTrend] = ()
    again: Sequence[Reinspection] = ()

    @cached_property
    def record_hash(self) -> str:
        """SHA-256 of the embedded record."""
        return digest(document(self.visit))

    @cached_property
    def entries(self) -> Mapping[int, Entry]:
        """Every entry by its number."""
        return {e.number: e for e in self.visit.entries}

    @cached_property
    def instruments(self) -> Mapping[str, Instrument]:
        """Every instrument by its id."""
        return {i.id: i for i in self.visit.instruments}

    @cached_property
    def readings(self) -> tuple[Reading, ...]:
        """Every reading of the visit, those of a series too."""
        answers = [a for e in self.visit.entries for a in e.answers]
        series = [r for a in answers if isinstance(a, Readings) for r in a.readings]
        return (*(a for a in answers if isinstance(a, Reading)), *series)

    @cached_property
    def code(self) -> CodeProfile:
        """The code profile that the record names."""
        return codes.profile(self.visit.code)

    @cached_property
    def sources(self) -> tuple[Source, ...]:
        """Every source of the assessment once: those of the code first, then the others."""
        found = (
            source
            for row in self.assessment.rows
            for source in (*(x.source for x in row.judgement.limits), *row.judgement.sources)
        )
        bases = list(Basis)
        return tuple(
            sorted(
                dict.fromkeys(found),
                key=lambda s: (not self.is_code(s), bases.index(s.basis), str(s)),
            )
        )

    def is_code(self, source: Source) -> bool:
        """Whether a source is a place in the adopted code itself."""
        adopted = (self.code.title, self.code.edition)
        return (source.document, source.edition) == adopted and bool(source.clause)

    def cite(self, source: Source) -> str:
        """Name a source in short: a clause of the code, or its number in the list of sources."""
        if not self.is_code(source):
            return f"S{self._numbers[source]}"
        basis = "" if source.basis is Basis.LOOKED_UP else f" ({source.basis})"
        return f"{source.clause}{basis}"

    def plain(self, source: Source) -> str:
        """Name a source without its basis, for a list that says it once."""
        return str(source.model_copy(update={"basis": Basis.LOOKED_UP}))

    @cached_property
    def _numbers(self) -> Mapping[Source, int]:
        others = [s for s in self.sources if not self.is_code(s)]
        return {source: n for n, source in enumerate(others, 1)}

    @cached_property
    def finding_numbers(self) -> Mapping[tuple[str, str], int]:
        """Number of each finding by its check and subject."""
        found = self.assessment.findings
        return {(f.row.check, f.row.subject): n for n, f in reversed(list(enumerate(found, 1)))}

    def place(self, subject: str) -> str:
        """Name of the site, panel or charging point that a row belongs to."""
        names = {p.id: p.name for p in self.visit.panels}
        names |= {p.id: p.name for p in self.visit.points}
        return "Site" if subject == SITE else names.get(subject, subject)

    def clock(self, at: str) -> str:
        """Say a time; the day only when it is not the visit's first."""
        moment = datetime.fromisoformat(at)
        start = datetime.fromisoformat(self.visit.started)
        if (moment.date(), moment.utcoffset()) == (start.date(), start.utcoffset()):
            return f"{moment:%H:%M}"
        return full_time(at)

    def count(self, verdict: Verdict) -> int:
        """How many rows have this verdict."""
        return sum(r.judgement.verdict is verdict for r in self.assessment.rows)

    def answers(self, entry: Entry) -> Iterator[tuple[str, str]]:
        """Label and words of what was answered: numbers as typed, gathered by place and meter."""
        numbers: dict[tuple[str, ...], list[str]] = {}
        seen = []
        check = BY_ID.get(entry.check)
        for answer in entry.answers:
            declared = check.input(answer.input) if check else None
            label = declared.label if declared else answer.input.replace("_", " ").capitalize()
            match answer:
                case Reading():
                    words = f"{label} {answer.value} {answer.unit}, {self.clock(answer.at)}"
                    numbers.setdefault(self._where_and_with(answer, declared), []).append(words)
                case Readings(readings=()):
                    seen.append(f"{label}: an empty series")
                case Readings(readings=series):
                    words = f"{label} {self._series(series)}"
                    numbers.setdefault(self._where_and_with(series[0], declared), []).append(words)
                case _:
                    seen.append(f"{label}: {self._answer(answer, declared)}")
        for where, words_here in numbers.items():
            yield "Read", " · ".join(("; ".join(words_here), *where))
        if seen:
            yield "Seen", "; ".join(seen)

    def _series(self, series: Sequence[Reading]) -> str:
        return "; ".join(f"{r.value} {r.unit} at {self.clock(r.at)}" for r in series)

    def _answer(self, answer: Answer, declared: AnyInput | None) -> str:
        match answer:
            case Chosen():
                options = declared.options if isinstance(declared, Choice) else ()
                return {o.value: o.words for o in options}.get(answer.option, answer.option)
            case YesNoAnswer():
                if isinstance(declared, YesNo) and declared.has_words:
                    return declared.words(yes=answer.yes)
                return "yes" if answer.yes else "no"
            case Worded():
                return answer.text or "left empty"
        return ""

    def _where_and_with(self, reading: Reading, declared: AnyInput | None) -> tuple[str, ...]:
        parts = [reading.access_point] if reading.access_point else []
        if reading.instrument is not None:
            known = self.instruments.get(reading.instrument)
            parts.append(known.name if known else reading.instrument)
            if known is not None and known.accuracy_for(UNITS[reading.unit].dimension) is None:
                parts.append(f"its accuracy is not stated{_assumed(reading)}")
        elif isinstance(declared, Measurement) and declared.instruments:
            parts.append(NO_INSTRUMENT + _assumed(reading))
        return tuple(parts)


def _assumed(reading: Reading) -> str:
    """Say which class judged a reading whose instrument states none."""
    stated = default_accuracy(UNITS[reading.unit].dimension)
    return "" if stated is None else f", a plain hand-held class is assumed: {stated}"


def full_time(at: str) -> str:
    """Say a time with its day and its distance from UTC."""
    moment = datetime.fromisoformat(at)
    zone = f"{moment:%z}"
    return f"{moment:%Y-%m-%d %H:%M} (UTC{zone[:3]}:{zone[3:]})"


Cite = Callable[[Source], str]


def limits_gathered(limits: Sequence[Limit], cite: Cite = str) -> Iterator[str]:
    """Say limits, those of one force and one source together."""
    grounds: dict[tuple[Force, str], dict[str, list[str]]] = {}
    for limit in limits:
        of = grounds.setdefault((limit.force, cite(limit.source)), {})
        of.setdefault(limit.amount.of, []).append(str(limit))
    for (force, source), amounts in grounds.items():
        said = "; ".join(
            f"{of}{': ' if of else ''}{', '.join(dict.fromkeys(texts))}"
            for of, texts in amounts.items()
        )
        yield f"{said} · {force}, {source}"


def limit_words(limit: Limit) -> str:
    """Say one limit, what stands behind it, and where it comes from."""
    return next(limits_gathered((limit,)))


def sources_gathered(sources: Sequence[Source]) -> str:
    """Name sources, the places in one edition of one document together."""
    places: dict[str, list[str]] = {}
    for source in sources:
        document = f"{source.document} {source.edition}".strip()
        if source.clause:
            place = str(source).removeprefix(document).strip()
            places.setdefault(document, []).append(place)
        else:
            places.setdefault(str(source), [])
    return "; ".join(" ".join(filter(None, (d, ", ".join(p)))) for d, p in places.items())


def found_words(judgement: Judgement) -> str:
    """Say the measured value with its uncertainty; empty where nothing was measured."""
    if judgement.measured is None:
        return ""
    of = f"{judgement.measured.of}: " if judgement.measured.of else ""
    return f"{of}{judgement.measured}"


def workings(judgement: Judgement) -> tuple[str, ...]:
    """Return the arithmetic line by line: the limits' own, then the value's."""
    lines = [line for limit in judgement.limits for line in limit.working]
    return tuple(dict.fromkeys((*lines, *judgement.working)))


def sentence(text: str) -> str:
    """Begin with a capital and end with a full stop; a sign of a unit stays as it is."""
    text = text.strip()
    if not text:
        return text
    return text[0].upper() + text[1:] + ("" if text.endswith((".", "!", "?")) else ".")


def check_title(check: str, assessment: Assessment) -> str:
    """Title of a check by its id."""
    return next((r.title for r in assessment.rows if r.check == check), check)


def superseded(case: Case, row: Row) -> Iterator[tuple[str, str]]:
    """Label and words of each earlier entry of a row; what the latest says too is not repeated."""
    latest = case.entries.get(row.entry) if row.entry is not None else None
    now = set(case.answers(latest)) if latest is not None else set()
    for number in row.superseded:
        entry = case.entries[number]
        words = "; ".join(_earlier(case, entry, now))
        yield f"Earlier, {case.clock(entry.at)}", f"entry {number}: {words}"


def _earlier(case: Case, entry: Entry, now: set[tuple[str, str]]) -> Iterator[str]:
    told = list(case.answers(entry))
    changed = [f"{label}: {text}" for label, text in told if (label, text) not in now]
    yield from changed
    if len(changed) < len(told):
        yield "the rest answered as now" if changed else "answered as now"
    if entry.not_done is not None:
        yield ": ".join(filter(None, (f"left out, {entry.not_done.reason}", entry.not_done.text)))
    elif not told:
        yield "no answers"
    if entry.note:
        yield f"Note: {entry.note}"
