"""Each number of a sound record at its extremes: judged, and worked on, all the same.

Random records seldom have everything right but one number; there a division by what was recorded
is reached.
"""

import math
from collections.abc import Iterator
from functools import cache
from random import Random
from typing import Final

import pytest

from checks.assess import Assessor, expected, leave_behinds, nights
from checks.check import AnyInput, Check, Measurement, Rating
from checks.codes import profile
from checks.path import subjects
from checks.record import (
    Answer,
    Chosen,
    Entry,
    Reading,
    Readings,
    SupplySystem,
    Visit,
    VisitKind,
    YesNoAnswer,
)
from checks.stations.all import BY_ID
from checks.units import Dimension
from tests.builders import visit
from tests.properties.test_judges import numbers_in
from tests.strategies import an_entry, points_of
from tests.ui.answers import plausible

SEEDS: Final = (3534, 3535, 3536)  # with them nearly every number is there to be tried
PLACES: Final = (1, 6, 9)  # of `points_of`: by receptacle and adapter, hard-wired, a cord set
ENDS: Final = ("0", "0.000000001", "999999999")


def sound_entry(check: Check, rng: Random) -> Entry | None:
    """Everything answered, most of it as at a sound installation."""
    made = an_entry(check, rng, chance=1.0, extreme=False)
    if made is None:
        return None
    answers = (_sound(check, a) if rng.random() < 0.9 else a for a in made.answers)
    return made.model_copy(update={"answers": tuple(answers)})


def _sound(check: Check, answer: Answer) -> Answer:
    asked = check.input(answer.input)
    assert asked is not None
    text = plausible(check.id, asked)
    if not text:
        return answer
    if isinstance(answer, Reading) and isinstance(asked, Measurement | Rating):
        return answer.model_copy(update={"value": text, "unit": asked.units[0]})
    if isinstance(answer, Chosen):
        return answer.model_copy(update={"option": text or answer.option})
    if isinstance(answer, YesNoAnswer):
        return answer.model_copy(update={"yes": text == "yes"})
    return answer


@cache
def sound_visits() -> tuple[Visit, ...]:
    """Visits of several make-ups and kinds, under either code, with every check entered."""
    made = []
    for seed, place, kind, system in zip(SEEDS, PLACES, VisitKind, SupplySystem, strict=False):
        rng = Random(seed)
        shape = visit(
            kind=kind,
            code=rng.choice(("nec_2023", "cec_2021")),
            system=system,
            points=(points_of(system)[place],),
        )
        entries: list[Entry] = []
        for check in BY_ID.values():
            for at in subjects(check.station, shape):
                entry = sound_entry(check, rng)
                if entry is not None:
                    number = len(entries) + 1
                    entries.append(entry.model_copy(update={"number": number, "subject": at}))
        made.append(shape.model_copy(update={"entries": tuple(entries)}))
    return tuple(made)


def at_extremes(made: Visit, check: str) -> Iterator[tuple[str, str, Visit]]:
    """The visit with one number of a check at each of its extremes, all else as it is."""
    for place, entry in enumerate(made.entries):
        if entry.check != check:
            continue
        for answer in entry.answers:
            for text, other in _others(BY_ID[check].input(answer.input), answer):
                answers = tuple(other if a is answer else a for a in entry.answers)
                changed = entry.model_copy(update={"answers": answers})
                entries = (*made.entries[:place], changed, *made.entries[place + 1 :])
                yield answer.input, text, made.model_copy(update={"entries": entries})


def _others(asked: AnyInput | None, answer: Answer) -> Iterator[tuple[str, Answer]]:
    if not isinstance(asked, Measurement | Rating):
        return
    is_whole = asked.dimension is Dimension.COUNT
    for text in dict.fromkeys(x.split(".")[0] if is_whole else x for x in ENDS):
        if isinstance(answer, Reading):
            yield text, answer.model_copy(update={"value": text})
        elif isinstance(answer, Readings):
            same = tuple(r.model_copy(update={"value": text}) for r in answer.readings)
            yield text, answer.model_copy(update={"readings": same})


NUMERIC: Final = [
    c.id for c in BY_ID.values() if any(isinstance(i, Measurement | Rating) for i in c.inputs)
]


@cache
def assessors() -> tuple[Assessor, ...]:
    """One for each visit, that has judged it: of a changed one it judges what is touched."""
    made = tuple(Assessor(profile(v.code)) for v in sound_visits())
    for each, sound in zip(made, sound_visits(), strict=True):
        each.assess(sound)
    return made


@pytest.mark.parametrize("check", NUMERIC)
def test_a_number_at_its_extremes_is_judged(check: str):
    reached = 0
    for sound, assessor in zip(sound_visits(), assessors(), strict=True):
        for name, text, made in at_extremes(sound, check):
            found = assessor.assess(made)
            said = f"{check}.{name} at {text}"
            for row in found.rows:
                whole = all(math.isfinite(float(n)) for n in numbers_in(row.judgement))
                assert whole, f"{said}: {row.check} {row.judgement.explanation!r}"
            assert expected(made, found), said
            nights(made, found)
            leave_behinds(made, found)
            reached += 1
    assert reached
