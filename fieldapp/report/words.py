"""The report's sentences: what was recorded and judged, in words; no page, no drawing."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import Final

from checks.assess import Assessment, Row
from checks.check import AnyInput, Choice, Measurement
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
from checks.stations.all import BY_ID
from checks.verdict import Judgement, Limit, Verdict
from fieldapp.report.embedded import digest, document

DEFERENCE: Final = (
    "The locally adopted code, the authority having jurisdiction, the listing, the makers' "
    "instructions and licensed practice decide. This report records; it overrules none of them."
)
NO_INSTRUMENT: Final = "no instrument named, accuracy of a plain hand-held class assumed"


@dataclass(frozen=True)
class Case:
    """One report's matter: the record, what it means, and when and under which key it is made."""

    visit: Visit
    assessment: Assessment
    at: str
    fingerprint: str

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
        """Label and words of each answer: numbers as they were typed, what was seen gathered."""
        seen = []
        for answer in entry.answers:
            check = BY_ID.get(entry.check)
            declared = check.input(answer.input) if check else None
            label = declared.label if declared else answer.input.replace("_", " ").capitalize()
            words = self._answer(answer, declared)
            if isinstance(answer, Reading | Readings):
                yield label, words
            else:
                seen.append(f"{label}: {words}")
        if seen:
            yield "Seen", "; ".join(seen)

    def _answer(self, answer: Answer, declared: AnyInput | None) -> str:
        match answer:
            case Chosen():
                options = declared.options if isinstance(declared, Choice) else ()
                return {o.value: o.words for o in options}.get(answer.option, answer.option)
            case YesNoAnswer():
                return "yes" if answer.yes else "no"
            case Worded():
                return answer.text
            case Reading():
                return self._reading(answer, declared)
            case Readings():
                if not answer.readings:
                    return "an empty series"
                numbers = "; ".join(
                    f"{r.value} {r.unit} at {self.clock(r.at)}" for r in answer.readings
                )
                where = self._where_and_with(answer.readings[0], declared)
                return " · ".join((numbers, *where))

    def _reading(self, reading: Reading, declared: AnyInput | None) -> str:
        parts = [f"{reading.value} {reading.unit}"]
        parts += self._where_and_with(reading, declared)
        return " · ".join((*parts, self.clock(reading.at)))

    def _where_and_with(self, reading: Reading, declared: AnyInput | None) -> list[str]:
        parts = [reading.access_point] if reading.access_point else []
        if reading.instrument is not None:
            known = self.instruments.get(reading.instrument)
            parts.append(known.name if known else reading.instrument)
        elif isinstance(declared, Measurement) and declared.instruments:
            parts.append(NO_INSTRUMENT)
        return parts


def full_time(at: str) -> str:
    """Say a time with its day and its distance from UTC."""
    moment = datetime.fromisoformat(at)
    zone = f"{moment:%z}"
    return f"{moment:%Y-%m-%d %H:%M} (UTC{zone[:3]}:{zone[3:]})"


def limit_words(limit: Limit) -> str:
    """Say a limit, what stands behind it, and where it comes from."""
    return f"{limit}, {limit.force}: {limit.source}"


def margin_words(judgement: Judgement) -> str:
    """Say on which side of its nearest limit the value lies, and how far."""
    if judgement.margin is None:
        return ""
    m = judgement.margin
    if m.value.startswith("-"):
        return f"{m.value[1:]} {m.unit} beyond the limit"
    return f"{m.value} {m.unit} inside the limit"


def check_title(check: str, assessment: Assessment) -> str:
    """Title of a check by its id."""
    return next((r.title for r in assessment.rows if r.check == check), check)


def superseded(case: Case, row: Row) -> Iterator[tuple[str, str]]:
    """Label and words of each earlier entry of a row, which stays in the record."""
    for number in row.superseded:
        entry = case.entries[number]
        if entry.not_done is not None:
            words = f"left out, {entry.not_done.reason}"
        else:
            words = "; ".join(f"{label}: {text}" for label, text in case.answers(entry))
        yield f"Earlier, {case.clock(entry.at)}", f"entry {number}: {words or 'no answers'}"
