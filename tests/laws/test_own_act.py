"""No visit can be finished in bulk: no check is within without an act of its own on that check.

Each declared check is tried in a visit where every other check is answered well, then with entries
that answer nothing and with its entry at another charging point. Then a whole visit is walked, and
before each check is made all keys that answer nothing are pressed on it.
"""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Any, Final

import pytest

from checks.assess import Assessment, Assessor, Row, assess
from checks.check import AnyInput, CircuitState, Series
from checks.codes import profile
from checks.intake import read_visit
from checks.path import Scope, subjects
from checks.record import (
    Attachment,
    ChargerForm,
    Coupler,
    Decision,
    Entry,
    NotDone,
    NotDoneReason,
    Occupancy,
    Panel,
    Reading,
    Readings,
    Role,
    Site,
    Visit,
    VisitKind,
)
from checks.stations.all import BY_ID, CHECKS
from checks.verdict import Verdict
from fieldapp.store.visits import Store
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk
from fieldapp.walk.finish import finish
from fieldapp.walk.questions import Questions, reply
from fieldapp.walk.visit import Walk, WalkError
from tests.builders import NOON, PANEL, hard_wired, instruments, level_1, point, visit
from tests.gallery.walking import begin, desk_in, enter, make
from tests.ui.answers import plausible

NEC: Final = profile("nec_2023")
KIT: Final = instruments()
EACH: Final = [pytest.param(check.id, id=check.id) for check in CHECKS]
PLACES: Final = ("service", "panel")
HELD: Final = {  # at one place: two chargers of 40 A, held together to 60 A on a device of 80 A
    "management.device_a": "80",
    "management.set_a": "60",
    "management_sensors.shown_1": "50.0",
    "management_sensors.shown_2": "50.0",
    "management_limit.charging": "55.0",
}
SHARED: Final = {
    "charger.together.with_all": "28.0",
    "charger.together.alone": "39.6",
    "charger.together.fallback": "16",
    **{f"{place}.{name}": value for place in PLACES for name, value in HELD.items()},
}
ADAPTER: Final = {"inlet": "SAE J3400"}
PUBLIC: Final = {"occupancy": Occupancy.OTHER}


# -- sound visits, in which every check is asked somewhere ----------------------------------------
def two(**over: Any) -> dict[str, Any]:
    """Two hard-wired chargers of a place that is no dwelling, fed by a panel behind a feeder."""
    points = tuple(hard_wired(id=f"bay-{n}", name=f"Bay {n}") for n in (1, 2))
    return {"points": points, "site": Site(name="Invented site", **PUBLIC), **over}


SHAPES: Final[tuple[tuple[dict[str, Any], dict[str, str]], ...]] = (
    (
        {
            "points": (
                point(inlet=Coupler.J3400),
                point(id="bay-2", name="Bay 2", inlet=Coupler.J3400),
            )
        },
        {},
    ),
    (
        {
            "kind": VisitKind.SERVICE_CALL,
            "role": Role.SERVES,
            "points": (level_1(inlet=None), level_1(id="bay-2", name="Bay 2")),
        },
        {
            "charger.nameplate.volts": "120",
            "breaker.rating.poles": "1",
            "run.insulation.line_ground": "0.08",  # else it is not read once more by itself
        },
    ),
    (
        two(panels=(Panel(id=PANEL, name="Panel A", is_service_equipment=False),)),
        {**SHARED, "panel.load.is_managed": "yes", "service.papers.property": "given"},
    ),
    (
        two(panels=(Panel(id=PANEL, name="Panel A", is_service_equipment=True),)),
        {**SHARED, "service.load.is_managed": "yes", "service.transformer.is_present": "yes"},
    ),
)


def answered(check_id: str, subject: str, number: int, said: Mapping[str, str]) -> Entry:
    """Make a check's entry by answering each of its questions well."""
    entry = Entry(number=number, check=check_id, subject=subject, at=NOON)
    questions = Questions(BY_ID[check_id], entry)
    while (asked := questions.current) is not None:
        value = said.get(f"{check_id}.{asked.name}") or plausible(check_id, asked)
        if value:
            questions = questions.answered(_answer(asked, value))
        elif asked.optional:
            questions = questions.passed_over()
        else:
            raise AssertionError((check_id, asked.name))
    return questions.entry


def _answer(asked: AnyInput, value: str) -> Any:
    kinds = getattr(asked, "instruments", ())
    used = next((i.id for i in KIT if i.kind in kinds), "")
    unit = getattr(asked, "units", ("",))[0]
    if not isinstance(asked, Series):
        return reply(asked, value, at=NOON, unit=unit, instrument=used)
    began = datetime.fromisoformat(NOON)
    stamps = [(began + timedelta(minutes=2 * n)).isoformat() for n in range(6)]
    made = [
        Reading(input=asked.name, value=value, unit=unit, at=at, instrument=used or None)
        for at in stamps
    ]
    return Readings(input=asked.name, readings=tuple(made))


@cache
def sound(shape: int) -> Visit:
    """A visit with an entry for every check that applies, all of them well."""
    over, said = SHAPES[shape]
    made = visit(**over)
    while True:
        asked = [r for r in assess(made, NEC).rows if _applies(r.judgement.verdict)]
        new = [r for r in asked if r.entry is None]
        if not new:
            return read_visit(made.model_dump(mode="json"))
        first = len(made.entries) + 1
        entries = [answered(r.check, r.subject, first + n, said) for n, r in enumerate(new)]
        made = made.model_copy(update={"entries": (*made.entries, *entries)})


@cache
def judged(shape: int) -> tuple[Assessor, Assessment]:
    assessor = Assessor(NEC)
    return assessor, assessor.assess(sound(shape))


def _applies(verdict: Verdict) -> bool:
    return verdict is not Verdict.NOT_APPLICABLE


# -- every declared check, judged ----------------------------------------------------------------
def tried_in(check: str) -> tuple[int, Row]:
    """Where a check is tried: where its act makes it within, else where it is asked at all."""
    asked = [
        (shape, row)
        for shape in range(len(SHAPES))
        for row in judged(shape)[1].rows
        if row.check == check and row.entry is not None
    ]
    assert asked, "no visit asks for it"
    return next((a for a in asked if a[1].judgement.verdict is Verdict.WITHIN), asked[0])


@pytest.mark.parametrize("check", EACH)
def test_no_check_is_within_without_an_act_on_it_however_good_the_rest_is(check: str) -> None:
    shape, row = tried_in(check)
    made = sound(shape)
    others = tuple(e for e in made.entries if (e.check, e.subject) != (check, row.subject))
    found = judged(shape)[0].assess(made.model_copy(update={"entries": others}))
    assert found.row(check, row.subject).judgement.verdict is not Verdict.WITHIN


@pytest.mark.parametrize("shape", range(len(SHAPES)))
def test_entries_that_answer_nothing_make_nothing_good(shape: int) -> None:
    left = NotDone(reason=NotDoneReason.NO_ACCESS, text="invented")
    for spared in ({"answers": ()}, {"answers": (), "not_done": left}):
        entries = tuple(e.model_copy(update=spared) for e in sound(shape).entries)
        found = assess(sound(shape).model_copy(update={"entries": entries}), NEC)
        asked = [r for r in found.rows if _applies(r.judgement.verdict)]
        assert len(asked) > len(CHECKS) // 2
        assert {r.judgement.verdict for r in asked} == {Verdict.NOT_MEASURED}


def test_most_checks_would_have_been_within_with_the_act() -> None:
    """Else the law above would show nothing."""
    good = {
        r.check
        for shape in range(len(SHAPES))
        for r in judged(shape)[1].rows
        if r.judgement.verdict is Verdict.WITHIN
    }
    assert len(good) > len(CHECKS) * 2 // 3, sorted(BY_ID.keys() - good)


def test_an_act_at_one_point_counts_at_no_other() -> None:
    for shape in range(len(SHAPES)):
        made = sound(shape)
        one, other = made.points
        fewer = tuple(e for e in made.entries if e.subject != other.id)
        found = assess(made.model_copy(update={"entries": fewer}), NEC)
        rows = [r for r in found.rows if r.subject == other.id]
        assert len(rows) > len(subjects_of_points(made)) // 2
        assert not [r.check for r in rows if r.judgement.verdict is Verdict.WITHIN], one


def subjects_of_points(made: Visit) -> list[str]:
    """The checks that are made at each charging point."""
    return [c.id for c in CHECKS if made.points[0].id in subjects(c.station, made)]


# -- a visit, walked -------------------------------------------------------------------------------
@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    with desk_in(tmp_path) as opened:
        yield opened


def press_on(walk: Walk, check: str) -> None:
    """Press every key on a check that answers nothing: read, next, pass over, end, enter."""
    before = walk.visit.entries
    questions = walk.begin(check)
    assert questions.entry.answers == (), check  # nothing is filled in, not by an earlier entry
    assert not questions.typed, check
    walk.acknowledge()
    for _ in range(2 + len(questions.check.inputs)):
        asked = walk.open_questions.current
        if asked is None:
            break
        if isinstance(asked, Series):
            walk.end_series()
        walk.pass_over()
        walk.go_to("")
    assert walk.open_questions.missing, check
    with pytest.raises(WalkError, match="has no answer"):
        walk.commit()
    assert walk.visit.entries == before
    walk.drop()


def walk_with_bulk_tried(walk: Walk) -> set[str]:
    """Walk a visit to its end; try each check in bulk before it is made, and once it is made."""
    tried = set()
    while (step := walk.next_step) is not None:
        if isinstance(step, CircuitState):
            enter(walk, step)
            continue
        check = step.row.check
        press_on(walk, check)
        count = len(walk.visit.entries)
        make(walk, check, {})
        assert len(walk.visit.entries) == count + 1, check  # one act, one entry
        within = [r for r in walk.assessment.rows if r.judgement.verdict is Verdict.WITHIN]
        assert not [r.check for r in within if r.entry is None], check
        assert walk.begin(check).entry.answers == (), check  # nor is it filled in by itself
        walk.drop()
        tried.add(check)
    return tried


def test_a_visit_walked_by_keys_that_answer_nothing_makes_no_entry(desk: Desk) -> None:
    walk = begin(desk, **ADAPTER)
    tried = walk_with_bulk_tried(walk)
    assert len(tried) > len(CHECKS) * 2 // 3

    # what is copied or begun again takes no answer over, and nothing of it is good
    walk.go_to_point(walk.copy_point("c1"))
    assert within_at(walk, "c2") == []
    for form, said in (
        (forms.AGAIN, {"kind": "commissioning", "role": "installs"}),
        (forms.AGAIN, {"kind": "site record", "role": "installs"}),
    ):
        questions = desk.form(form)
        while (asked := questions.current) is not None:
            questions = desk.answer_form(questions, said[asked.name])
        again = desk.begin_again(walk.visit.id)
        assert [p.inlet for p in again.visit.points] == [None, None]
        assert not any(p.is_vehicle_asked for p in again.visit.points)
        assert {r.judgement.verdict for r in again.assessment.rows} <= {
            Verdict.NOT_MEASURED,
            Verdict.NOT_APPLICABLE,
        }


def within_at(walk: Walk, subject: str) -> list[str]:
    rows = [r for r in walk.assessment.rows if r.subject == subject]
    assert rows
    return [r.check for r in rows if r.judgement.verdict is Verdict.WITHIN]


def test_what_is_left_out_in_bulk_is_not_measured_and_says_why(desk: Desk) -> None:
    walk = begin(desk, role="inspects", connection="level 2 hard-wired", inlet="no vehicle here")
    walk.go_without(CircuitState.ANY, NotDoneReason.NO_ACCESS, "all of it")
    assert walk.next_step is None
    assert all(e.not_done is not None for e in walk.visit.entries)
    verdicts = {r.judgement.verdict for r in walk.assessment.rows}
    assert verdicts == {Verdict.NOT_MEASURED, Verdict.NOT_APPLICABLE}
    assert walk.assessment.verdict is Verdict.NOT_MEASURED
    assert len(walk.assessment.unfinished) == len(walk.visit.entries)


def test_a_visit_that_is_signed_with_nothing_done_says_not_measured(tmp_path: Path) -> None:
    made = visit(points=(point(charger_form=ChargerForm.FIXED, attachment=Attachment.HARD_WIRED),))
    with Store(tmp_path / "store") as store:
        store.save(made.model_dump(mode="json"))
        walk = Walk(store, made.id, lambda: datetime.fromisoformat(NOON))
        finish(
            store,
            walk,
            tmp_path / "key",
            strokes=(((100, 200), (900, 250)),),
            decision=Decision.RETURN,
            witness=None,
            pin="314159",
            now=lambda: datetime.fromisoformat(NOON),
            progress=lambda _part, _text: None,
        )
        sealed = Assessment.model_validate(walk.seal.content["assessment"], strict=False)
    assert sealed.verdict is Verdict.NOT_MEASURED
    assert not [r for r in sealed.rows if r.judgement.verdict is Verdict.WITHIN]
    asked = [r for r in sealed.rows if _applies(r.judgement.verdict)]
    assert len(sealed.unfinished) == len(asked) > len(CHECKS) // 2
    assert Scope.POINT in {r.station.scope for r in asked}
