"""A part that was replaced: nothing that rests on the old one is within, and what was found stays.

The laws are held against the record itself: a judge is watched while it reads, and what the old
part was said to be is taken out of the record or turned into something else.
"""

from random import Random
from typing import Final

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checks.assess import Assessment, Assessor, assess
from checks.assess.model import Row
from checks.check import STAYS, Choice, Situation, how_bad, latest_entries, of_gone_parts
from checks.codes import profile
from checks.path import Station
from checks.record import Chosen, Entry, Visit, VisitKind
from checks.stations import symptoms
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from tests.builders import NOON, POINT, hard_wired, visit
from tests.strategies import filled, full_entry, seeds, shapes

NEC: Final = profile("nec_2023")
REPAIR: Final = "surroundings.repair"
OF_THE_PART: Final = {
    "breaker": (Station.BREAKER,),
    "receptacle": (Station.OUTLET,),
    "charger": (Station.CHARGER, Station.CONNECTOR),
}
PARTS: Final = st.sampled_from(list(OF_THE_PART))
FOUND: Final = (Verdict.OUTSIDE, Verdict.BORDERLINE)
thorough = settings(
    max_examples=12, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)

Key = tuple[str, str]


def as_a_call(shape: Visit, seed: int) -> Visit:
    """A service call, most of it entered with plausible answers, with nothing repaired yet."""
    call = shape.model_copy(update={"kind": VisitKind.SERVICE_CALL})
    rng = Random(seed)
    made = filled(call, rng, lambda check, r: full_entry(check, r) if r.random() < 0.9 else None)
    kept = tuple(e for e in made.entries if e.check != REPAIR)
    return made.model_copy(update={"entries": kept})


def with_entry(made: Visit, check: str, subject: str, *answers: Chosen) -> Visit:
    number = 1 + max((e.number for e in made.entries), default=0)
    entry = Entry(number=number, check=check, subject=subject, at=NOON, answers=answers)
    return made.model_copy(update={"entries": (*made.entries, entry)})


def replaced(made: Visit, part: str) -> Visit:
    """The same record, and a repair of its first point that replaced a part."""
    said = (
        Chosen(input="outcome", option="mended"),
        Chosen(input="replaced", option=part),
    )
    return with_entry(made, REPAIR, made.points[0].id, *said)


def old(made: Visit, part: str) -> set[Key]:
    """What is said of a part where it sits: by its station, without the library's own list."""
    first = made.points[0].id
    return {
        (e.check, e.subject)
        for e in made.entries
        if BY_ID[e.check].station in OF_THE_PART[part]
        and e.subject == first
        and e.check not in STAYS
    }


def read_by(row: Row, made: Visit) -> set[Key]:
    """What a judge looks up in the record as it was before the repair."""
    reads: set[Key] = set()
    here = Situation(made, NEC, row.subject, reads=reads)
    if not BY_ID[row.check].not_here_because(here):
        BY_ID[row.check].judge(here)
    return reads


def is_here(key: Key, made: Visit) -> bool:
    return not BY_ID[key[0]].not_here_because(Situation(made, NEC, key[1]))


# -- what rests on the old part -----------------------------------------------------------------
@thorough
@given(shapes(most_points=3), seeds, PARTS)
def test_nothing_that_reads_an_old_part_is_within(shape: Visit, seed: int, part: str) -> None:
    before = as_a_call(shape, seed)
    gone = {key for key in old(before, part) if is_here(key, before)}
    for row in assess(replaced(before, part), NEC).rows:
        if read_by(row, before) & gone:
            assert row.judgement.verdict is not Verdict.WITHIN, row.check


@thorough
@given(shapes(most_points=3), seeds, PARTS, seeds)
def test_what_is_not_found_comes_out_the_same_whatever_the_old_part_was(
    shape: Visit, seed: int, part: str, other_seed: int
) -> None:
    """Its limits, its numbers, its staircase: none of it is reckoned with what is gone."""
    before = as_a_call(shape, seed)
    gone, rng = old(before, part), Random(other_seed)

    def another(entry: Entry) -> Entry:
        made = full_entry(BY_ID[entry.check], rng) if (entry.check, entry.subject) in gone else None
        return entry if made is None else entry.model_copy(update={"answers": made.answers})

    turned = before.model_copy(update={"entries": tuple(map(another, before.entries))})
    one, other = assess(replaced(before, part), NEC), assess(replaced(turned, part), NEC)
    for mine, its in zip(one.rows, other.rows, strict=True):
        both = mine.judgement, its.judgement
        if not any(j.verdict in FOUND or j.verdict is Verdict.NOT_APPLICABLE for j in both):
            assert both[0].limits == both[1].limits, mine.check
            assert both[0].steps == both[1].steps, mine.check
            assert both[0].telling == both[1].telling, mine.check
            assert both[0].verdict == both[1].verdict, mine.check


@thorough
@given(shapes(most_points=3), seeds, PARTS)
def test_what_was_found_stays_found_and_as_grave(shape: Visit, seed: int, part: str) -> None:
    before = as_a_call(shape, seed)
    then, now = assess(before, NEC), assess(replaced(before, part), NEC)
    for was, stands in zip(then.rows, now.rows, strict=True):
        if was.judgement.verdict in FOUND and was.check != REPAIR:
            assert how_bad(stands.judgement) <= how_bad(was.judgement), was.check


@thorough
@given(shapes(most_points=2), seeds, PARTS)
def test_the_fault_is_weighed_by_the_old_part_and_nothing_becomes_safer(
    shape: Visit, seed: int, part: str
) -> None:
    before = as_a_call(shape, seed)
    then, now = assess(before, NEC), assess(replaced(before, part), NEC)
    for was, is_now in zip(then.causes, now.causes, strict=True):
        assert [(c.cause, c.share) for c in was.causes] == [
            (c.cause, c.share) for c in is_now.causes
        ]
        assert set(was.barred) <= set(is_now.barred)
    for was_at, now_at in zip(then.points, now.points, strict=True):
        for was_gate, now_gate in zip(was_at.gates, now_at.gates, strict=True):
            assert was_gate.is_open or not now_gate.is_open, was_gate.state


@settings(thorough, max_examples=4)
@given(shapes(most_points=2), seeds, PARTS, PARTS)
def test_an_assessor_that_follows_a_replacement_gives_the_same(
    shape: Visit, seed: int, part: str, next_part: str
) -> None:
    before = as_a_call(shape, seed)
    once = replaced(before, part)
    read = next(iter(sorted(old(before, part))), None)
    entry = next((e for e in before.entries if (e.check, e.subject) == read), None)
    again = once if entry is None else with_entry(once, entry.check, entry.subject, *entry.answers)
    others = with_entry(once, REPAIR, before.points[0].id, Chosen(input="outcome", option="others"))
    follows = Assessor(NEC)
    for made in (before, once, again, replaced(again, next_part), once, others, before):
        assert follows.assess(made).model_dump_json() == assess(made, NEC).model_dump_json()
    assert shares(assess(others, NEC)) == shares(assess(before, NEC)), "what was found is kept"


def shares(assessment: Assessment) -> list[tuple[str, str]]:
    return [(c.cause, c.share) for r in assessment.causes for c in r.causes]


# -- which checks are of a part ---------------------------------------------------------------
def test_what_stays_is_told_or_proved_anew_by_each_state() -> None:
    stations = [s for of in OF_THE_PART.values() for s in of]
    here = [c for c in BY_ID.values() if c.station in stations]
    assert {c.id for c in here if c.proves or c.id in symptoms.IDS} == STAYS


@pytest.mark.parametrize("part", OF_THE_PART)
def test_every_answer_that_is_of_a_part_is_declared(part: str) -> None:
    """And every part that a repair can name makes something owed, here and beside."""
    asked = BY_ID[REPAIR].input("replaced")
    assert isinstance(asked, Choice)
    assert part in [o.value for o in asked.options]
    every = filled(visit(points=(hard_wired(),)), Random(1), full_entry)
    kept = tuple(e for e in every.entries if e.check != REPAIR)
    made = replaced(every.model_copy(update={"entries": kept}), part)
    gone = of_gone_parts(made, latest_entries(made))
    assert old(made, part) <= gone.keys()
    assert "run.conductor" in {check for check, at in gone if at == POINT}, "its terminal markings"
