"""Series that are read side by side: which reading is due, by the stamps of those before."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from checks.check import Check, Choice, Series
from checks.record import READINGS_MOST, Answer, Entry, Reading, Readings
from fieldapp.walk.questions import Questions
from fieldapp.walk.refused import WalkError


@dataclass(frozen=True)
class Due:
    """The series whose reading is due next, and in how many seconds; below zero it is late."""

    name: str
    in_s: float


def series_of(questions: Questions) -> tuple[Series, ...]:
    """Return the series that are read: those asked, but for optional ones that were passed over."""
    return tuple(
        i for i in questions.asked if isinstance(i, Series) and i.name not in questions.passed
    )


def readings_of(entry: Entry, name: str) -> tuple[Reading, ...]:
    """Return the readings of one series, in order of time."""
    found = entry.answer(name)
    return found.readings if isinstance(found, Readings) else ()


def due(questions: Questions, now: datetime) -> Due:
    """Say which reading is due next: first each series once, then by its pace since the last.

    The time comes from the stamps of the readings: it goes on while the phone is locked or the
    app is not there at all. A reading that was taken back is due before any other.

    Parameters
    ----------
    questions : Questions
        At a series.
    now : datetime
        The time.
    """
    held = [i.name for i in series_of(questions) if questions.typed.get(f"{i.name} at")]
    if held:
        return Due(held[0], 0.0)
    waits = [(_wait_s(questions.entry, i, now), i.name) for i in series_of(questions)]
    unread = [name for wait_s, name in waits if wait_s is None]
    if unread:
        return Due(unread[0], 0.0)
    soonest = min(((s, n) for s, n in waits if s is not None), key=lambda each: each[0])
    return Due(soonest[1], soonest[0])  # of equals the first in the order of the check


def _wait_s(entry: Entry, series: Series, now: datetime) -> float | None:
    made = readings_of(entry, series.name)
    if not made:
        return None
    last = max(datetime.fromisoformat(r.at) for r in made)
    gone_s = max(0.0, (now - last).total_seconds())  # a clock that was set back delays nothing
    return series.every_s - gone_s


def lasted_s(questions: Questions, now: datetime) -> float:
    """Return the time since the first reading of any series; 0 before it [s]."""
    stamps = [
        datetime.fromisoformat(r.at)
        for i in series_of(questions)
        for r in readings_of(questions.entry, i.name)
    ]
    return max(0.0, (now - min(stamps)).total_seconds()) if stamps else 0.0


def is_half_typed(questions: Questions) -> bool:
    """Whether digits stand in the field of the series on the screen."""
    current = questions.current
    return current is not None and bool(questions.typed.get(current.name))


def with_reading(questions: Questions, series: Series, reading: Reading) -> Questions:
    """Add a reading where its time puts it; the question stays.

    Raises
    ------
    WalkError
        The series is full.
    """
    made = (*readings_of(questions.entry, series.name), reading)
    if len(made) > READINGS_MOST:
        raise WalkError(
            f"{READINGS_MOST} readings are the most",
            where=series.label,
            remedy="End the measuring: those that are there are kept and judged",
        )
    joined = Readings(input=series.name, readings=tuple(sorted(made, key=_time)))
    return _without_field(questions.answered(joined), series.name).go_to(series.name)


def _time(reading: Reading) -> datetime:
    return datetime.fromisoformat(reading.at)


def taken_back(questions: Questions, name: str, number: int) -> Questions:
    """Put a reading back into the field, with its time: added again, it is where it was."""
    made = readings_of(questions.entry, name)
    back = made[number]
    left = (*made[:number], *made[number + 1 :])
    others = tuple(a for a in questions.entry.answers if a.input != name)
    answers: Sequence[Answer] = (*others, Readings(input=name, readings=left)) if left else others
    held = {
        name: back.value,
        f"{name} unit": back.unit,
        f"{name} instrument": back.instrument or "",
        f"{name} at": back.at,
    }
    entry = questions.entry.model_copy(update={"answers": tuple(answers)})
    return replace(questions, entry=entry, typed={**questions.typed, **held}, at=name)


def given_up(questions: Questions, name: str) -> Questions:
    """Clear the field of a series: what was taken back is left out."""
    return _without_field(questions, name)


def ended(questions: Questions) -> Questions:
    """End the measuring: optional series that were not read are passed over."""
    unread = {
        i.name
        for i in series_of(questions)
        if i.optional and not readings_of(questions.entry, i.name)
    }
    return replace(questions, passed=questions.passed | unread, at="")


def stop_question(check: Check) -> Choice | None:
    """Return the question about stop signs, where the check has one."""
    choices = (i for i in check.inputs if isinstance(i, Choice))
    return next((c for c in choices if any(o.ends for o in c.options)), None)


def _without_field(questions: Questions, name: str) -> Questions:
    gone = {name, f"{name} at"}
    return replace(questions, typed={k: v for k, v in questions.typed.items() if k not in gone})
