"""The one door for a record from outside: models first, then the declarations of the checks."""

import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from typing import Final

from pydantic import ValidationError

from checks.check import AnyInput, Choice, Measurement, Rating, Series, Words, YesNo
from checks.codes import profile
from checks.errors import ChecksError, RecordError, RecordTooNewError, UnitError
from checks.path import subjects
from checks.record import (
    SCHEMA_VERSION,
    Answer,
    Chosen,
    Correction,
    Entry,
    Reading,
    Readings,
    Visit,
    Worded,
    YesNoAnswer,
    upgraded,
)
from checks.stations.all import BY_ID
from checks.units import Dimension, unit

__all__ = ["BY_ID", "check_answer", "read_visit"]


def read_visit(document: Mapping[str, object]) -> Visit:
    """Read a record from its JSON form, checked against the models and against the declarations.

    One of an earlier schema is brought to this one first.

    Raises
    ------
    RecordTooNewError
        Written by a later version.
    RecordError
        What is wrong, in which field, and what to do.
    """
    version = document.get("schema_version")
    if isinstance(version, int) and version > SCHEMA_VERSION:
        raise RecordTooNewError(
            f"schema version {version} is later than {SCHEMA_VERSION}",
            where="schema_version",
            remedy="Open it with the version of the software that wrote it, or a later one",
        )
    try:
        visit = Visit.model_validate_json(json.dumps(upgraded(document), allow_nan=False))
    except ValidationError as error:
        raise _record_error(error) from error
    except (ValueError, RecursionError) as error:
        raise RecordError(
            "is not a JSON document that can be read", where="record", remedy="Check the file"
        ) from error
    numbers = (*(e.number for e in visit.entries), *(c.number for c in visit.corrections))
    stood = visit.as_it_stood_at(numbers)
    for correction in visit.corrections:
        _check_correction(stood[correction.number], correction)
    for entry in visit.entries:
        _check_entry(visit, stood[entry.number], entry)
    return visit


def _record_error(error: ValidationError) -> RecordError:
    first = error.errors(include_url=False)[0]
    where = _place(first["loc"]) or "record"
    problem = str(first["msg"]).removeprefix("Value error, ")
    kind = str(first["type"])
    remedy = {
        "extra_forbidden": "Remove the field, or read the schema for the right name",
        "missing": "Add the field",
        "string_pattern_mismatch": "Write it in the form that the schema asks for",
        "string_type": "Write it as text in quotes",
    }.get(kind, "Correct the field; the schema says what belongs there")
    if where.endswith(".value"):
        problem = 'a reading must be a plain decimal number in quotes, such as "239.5"'
        remedy = "Write the digits as they were read: no exponent, no NaN, no bare number"
    return RecordError(problem, where=where, remedy=remedy)


def _place(parts: Sequence[int | str]) -> str:
    """Return the field as it stands in the file, without the kind of answer that pydantic adds."""
    words = []
    for before, part in zip(("", *parts), parts, strict=False):
        if isinstance(part, int):
            words.append(f"[{part}]")
        elif not (isinstance(before, int) and part in _KINDS):
            words.append(f".{part}")
    return "".join(words).removeprefix(".")


def _check_correction(after: Visit, made: Correction) -> None:
    """Check that a correction says what was there, once each, and not what stood after it."""
    where = f"corrections, number {made.number}"
    if made.code is not None:
        try:
            profile(made.code)
        except ChecksError as error:
            field = f"{where}, code"
            raise RecordError(error.problem, where=field, remedy=error.remedy) from error
    kept: dict[str, list[tuple[object, object]]] = {
        name: [(getattr(made, name), getattr(after, name))] for name in ("site", "system", "code")
    }
    for name in ("panels", "points"):
        now = {p.id: p for p in getattr(after, name)}
        kept[name] = [(p, now[p.id]) for p in getattr(made, name)]
        if len({p.id for p in getattr(made, name)}) < len(kept[name]):
            raise RecordError(
                "one is corrected twice by one correction",
                where=f"{where}, {name}",
                remedy="Keep what stood before it, once each",
            )
    for name, each in kept.items():
        if any(before == stands for before, stands in each):
            raise RecordError(
                "what stood before is what stood after it",
                where=f"{where}, {name}",
                remedy="Name only what was corrected, as it stood before",
            )


def _check_entry(visit: Visit, stood: Visit, entry: Entry) -> None:
    where = f"entries, number {entry.number}"
    check = BY_ID.get(entry.check)
    if check is None:
        raise RecordError(
            f"there is no check {entry.check!r}", where=where, remedy="Use the id of a known check"
        )
    there = subjects(check.station, stood)
    if entry.subject not in there:
        known = ", ".join(there) or "none here"
        raise RecordError(
            f"{entry.check} cannot be recorded at {entry.subject!r}",
            where=f"{where}, subject",
            remedy=f"Use one of: {known}",
        )
    if (entry.not_done is None) == (not entry.answers):
        raise RecordError(
            "an entry holds answers, or the reason why it was not done",
            where=where,
            remedy="Give exactly one of the two",
        )
    names = [a.input for a in entry.answers]
    if len(set(names)) < len(names):
        raise RecordError(
            "one input is answered twice", where=where, remedy="Keep one answer an input"
        )
    for answer in entry.answers:
        declared = check.input(answer.input)
        place = f"{where}, {entry.check}.{answer.input}"
        if declared is None:
            raise RecordError(
                f"{entry.check} has no input {answer.input!r}",
                where=place,
                remedy=f"Use one of: {', '.join(i.name for i in check.inputs)}",
            )
        check_answer(visit, declared, answer, place)


_ANSWERS: Final[Sequence[tuple[type[AnyInput], type[Answer]]]] = (
    (Choice, Chosen),
    (YesNo, YesNoAnswer),
    (Words, Worded),
    (Series, Readings),
    (Measurement, Reading),
    (Rating, Reading),
)


_KINDS: Final = frozenset(str(a.model_fields["kind"].default) for _, a in _ANSWERS)


def check_answer(visit: Visit, declared: AnyInput, answer: Answer, where: str) -> None:
    """Check one answer against the input that it answers.

    Raises
    ------
    RecordError
        Another kind of answer, no option of it, a unit that does not fit, a wrong sign, a fraction
        of a count, an instrument that is not in the visit's list.
    """
    wanted = next(a for i, a in _ANSWERS if isinstance(declared, i))
    if not isinstance(answer, wanted):
        raise RecordError(
            f"{declared.label!r} cannot be answered with a {answer.kind}",
            where=where,
            remedy=f"Answer it with a {wanted.model_fields['kind'].default}",
        )
    if isinstance(answer, Chosen) and isinstance(declared, Choice):
        options = [o.value for o in declared.options]
        if answer.option not in options:
            raise RecordError(
                f"{answer.option!r} is not an option",
                where=where,
                remedy=f"Use {', '.join(options)}",
            )
    if isinstance(answer, Readings):
        for reading in answer.readings:
            _check_reading(visit, declared, reading, where)
    if isinstance(answer, Reading):
        _check_reading(visit, declared, answer, where)


def _check_reading(visit: Visit, declared: AnyInput, reading: Reading, where: str) -> None:
    if not isinstance(declared, Measurement | Rating):
        return
    try:
        unit(reading.unit, declared.dimension)
    except UnitError as error:
        raise RecordError(error.problem, where=f"{where}, unit", remedy=error.remedy) from error
    signed = isinstance(declared, Measurement) and declared.signed
    if reading.value.startswith("-") and not signed:
        raise RecordError(
            f"{declared.label!r} cannot be below zero, and {reading.value} {reading.unit} is",
            where=f"{where}, value",
            remedy="Write it without the sign, or measure again",
        )
    if declared.dimension is Dimension.COUNT and Decimal(reading.value) % 1:
        raise RecordError(
            f"{reading.value} {reading.unit} is no whole number",
            where=f"{where}, value",
            remedy="Count again",
        )
    known = {i.id for i in visit.instruments}
    if reading.instrument is not None and reading.instrument not in known:
        raise RecordError(
            f"instrument {reading.instrument!r} is not in the visit's list",
            where=f"{where}, instrument",
            remedy=f"Use one of: {', '.join(sorted(known)) or 'none listed: add it first'}",
        )
