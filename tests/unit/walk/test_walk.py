"""One visit, walked: every step is on disk before the next, and nothing typed is lost.

Each test walks through `Reopened`, which after every single step closes the store, opens a fresh
one on the same folder, and asserts that a fresh walk sees exactly what the old one saw.
"""

import json
from collections.abc import Callable, Iterator
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from checks.check import Choice, CircuitState, Measurement
from checks.errors import ChecksError, RecordError
from checks.record import (
    Category,
    Coupler,
    DangerAnswer,
    Decision,
    Entry,
    Instrument,
    InstrumentKind,
    NotDoneReason,
    Panel,
    Reading,
    Role,
    SignOff,
    StateEntry,
    Visit,
)
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from fieldapp.store import Store
from fieldapp.walk.agenda import Step
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import Walk, WalkError
from tests.builders import NOON, PANEL, POINT, level_1, point, visit
from tests.ui.answers import plausible

METER, TAPE = "multimeter", "measuring-tape"
PROOF = "breaker.absence_of_voltage"
CONDITION = ("no", "no", "no")
LIVE = "energised"
LOCKED = ("yes", "yes", "yes", "yes", "yes")
BUS_DEAD = ("yes", "yes", "yes", "120.4 V", "yes", "0.1 V", "120.3 V")


class Clock:
    """One second later at each look."""

    def __init__(self) -> None:
        self.at = datetime(2025, 6, 2, 9, 0, tzinfo=timezone(timedelta(hours=-4)))

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


def seen(walk: Walk) -> dict[str, Any]:
    """All that a screen could show of a walk."""
    questions = walk.questions
    return {
        "visit": walk.visit,
        "assessment": walk.assessment,
        "point": walk.point_id,
        "state": walk.state,
        "steps": walk.steps,
        "next": walk.next_step,
        "progress": walk.progress,
        "last": walk.last_recorded,
        "questions": questions,
        "current": questions and questions.current,
        "place": questions and questions.place,
        "awaits_photo": walk.awaits_photo,
        "awaits": questions and walk.awaits_cautions,
        "preview": questions and walk.preview(),
    }


class Reopened:
    """A walk that is killed and opened again after every step."""

    def __init__(self, folder: Path, made: Visit) -> None:
        self.folder, self.clock = folder, Clock()
        with Store(folder) as store:
            store.save(made.model_dump(mode="json"))
        self.id = made.id
        self.steps_taken = 0
        self._open()

    def _open(self) -> None:
        self.store = Store(self.folder)
        self.walk = Walk(self.store, self.id, self.clock)

    def close(self) -> None:
        self.store.close()

    def do(self, step: Callable[[Walk], Any]) -> Any:
        result = step(self.walk)
        before = seen(self.walk)
        self.close()
        self._open()
        assert seen(self.walk) == before
        self.steps_taken += 1
        return result

    def refused(self, step: Callable[[Walk], Any], match: str) -> None:
        """A step that is refused changes nothing, in memory or on disk."""
        before = seen(self.walk)
        with pytest.raises(ChecksError, match=match):
            step(self.walk)
        assert seen(self.walk) == before
        self.close()
        self._open()
        assert seen(self.walk) == before

    def answers(self, check: str, *values: str, **begin: bool) -> None:
        """Begin a check, acknowledge its cautions, and answer its questions one by one."""
        self.do(lambda w: w.begin(check, **begin))
        if self.walk.awaits_cautions:
            self.do(lambda w: w.acknowledge())
        for value in values:
            digits, _, unit = value.partition(" ")
            instrument = self._instrument()
            doubted = self.do(
                lambda w, d=digits, u=unit, i=instrument: w.answer(d, unit=u, instrument=i)
            )
            assert doubted is None, doubted

    def _instrument(self) -> str:
        questions = self.walk.questions
        assert questions is not None
        assert questions.current is not None
        fit = self.walk.instruments_for(questions.current)
        return fit[0].id if fit else ""

    def makes(self, check: str, *values: str, **begin: bool) -> Verdict:
        self.answers(check, *values, **begin)
        return self.do(lambda w: w.commit()).judgement.verdict

    def proves_dead(self) -> None:
        self.do(lambda w: w.enter_state(CircuitState.DEAD))
        self.makes("breaker.lock_and_tag", *LOCKED)
        self.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")

    def proves_the_bus_dead(self) -> None:
        self.proves_dead()
        self.makes("panel.absence_of_voltage", *BUS_DEAD)


Walks = Callable[..., Reopened]


@pytest.fixture
def walks(tmp_path: Path) -> Iterator[Walks]:
    opened: list[Reopened] = []

    def start(**over: Any) -> Reopened:
        opened.append(Reopened(tmp_path / str(len(opened)), visit(**over)))
        return opened[-1]

    yield start
    for each in opened:
        each.close()


# -- one check -----------------------------------------------------------------------------------
def test_a_check_is_begun_answered_committed_and_undone_across_kills(walks: Walks):
    w = walks()
    assert w.walk.questions is None
    w.answers("breaker.rating", "50 A")
    w.refused(lambda walk: walk.commit(), "'Poles' has no answer.*leave the whole check out")
    w.do(lambda walk: walk.answer("2"))
    assert w.walk.questions is not None
    assert w.walk.questions.current is None
    row = w.do(lambda walk: walk.commit())
    assert (row.entry, row.judgement.telling) == (1, "50 A")
    assert (w.walk.questions, len(w.walk.visit.entries), w.walk.visit.revision) == (None, 1, 1)
    assert w.walk.last_recorded == "Breaker rating"
    assert w.do(lambda walk: walk.undo()) == "Breaker rating"
    assert w.walk.visit.entries == ()
    draft = w.walk.questions
    assert [a.input for a in draft.entry.answers] == ["rated_a", "poles"]
    w.do(lambda walk: walk.commit())
    assert len(w.walk.visit.entries) == 1
    assert w.steps_taken == 6


def test_half_typed_digits_and_words_survive_a_kill(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.do(lambda walk: walk.typing("4", unit="A"))
    assert w.walk.questions is not None
    assert w.walk.questions.typed["rated_a"] == "4"
    assert w.walk.visit.entries == ()
    w.do(lambda walk: walk.note("  handle hard to read "))
    w.do(lambda walk: walk.answer("40", unit="A"))
    assert "rated_a" not in w.walk.questions.typed
    w.do(lambda walk: walk.answer("2"))
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[0].note == "handle hard to read"


def test_a_check_left_half_way_is_there_again_after_another_and_another_point(walks: Walks):
    w = walks(points=(point(), point(id="bay-2", name="Bay 2")))
    w.answers("breaker.rating", "50 A")
    w.makes("breaker.condition", *CONDITION)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    assert w.walk.questions is None
    assert w.do(lambda walk: walk.begin("breaker.rating")).entry.answers == ()
    w.do(lambda walk: walk.go_to_point(POINT))
    again = w.do(lambda walk: walk.begin("breaker.rating"))
    assert [a.input for a in again.entry.answers] == ["rated_a"]
    assert again.entry.subject == POINT


def test_going_back_changes_no_answer_and_a_wrong_turn_can_be_mended(walks: Walks):
    w = walks()
    w.answers("breaker.rating", "40 A", "1")
    assert w.do(lambda walk: walk.back())
    assert w.walk.questions is not None
    assert w.walk.questions.current is not None
    assert w.walk.questions.current.name == "poles"
    w.do(lambda walk: walk.answer("2"))
    assert w.do(lambda walk: walk.commit()).judgement.verdict is not Verdict.OUTSIDE
    w.do(lambda walk: walk.begin("breaker.condition"))
    assert not w.do(lambda walk: walk.back())


def test_a_dropped_check_leaves_no_entry(walks: Walks):
    w = walks()
    w.answers("breaker.rating", "50 A")
    w.do(lambda walk: walk.drop())
    assert w.walk.questions is None
    assert w.do(lambda walk: walk.begin("breaker.rating")).entry.answers == ()


# -- numbers -------------------------------------------------------------------------------------
def test_a_slip_of_the_finger_is_asked_about_and_taken_only_when_sure(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    found = w.do(lambda walk: walk.answer("400", unit="A"))
    assert (found.suggestion, w.walk.questions.entry.answers) == ("40.0", ())
    assert w.do(lambda walk: walk.answer("400", unit="A", sure=True)) is None
    assert w.walk.questions.entry.answers[0].value == "400"


@pytest.mark.parametrize("text", ["", ".", "-", "abc", "1e3", "4,0", "07", "NaN", "9999999999"])
def test_what_is_no_number_is_refused_at_the_field(walks: Walks, text: str):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.refused(lambda walk: walk.answer(text, unit="A", sure=True), "Breaker rating: no number")


def test_an_answer_that_does_not_fit_is_refused_at_the_field_and_not_at_the_end(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.refused(lambda walk: walk.answer("-40", unit="A", sure=True), "cannot be below zero")
    w.do(lambda walk: walk.answer("40", unit="A"))
    w.refused(lambda walk: walk.answer("3"), "'3' is not an option")


def test_the_limit_is_in_view_before_the_number_is_typed_and_moves_nothing(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("run.length"))
    before = w.walk.visit
    assert w.walk.preview().verdict is Verdict.NOT_MEASURED
    trial = w.walk.preview("30.5", "m", TAPE)
    assert w.walk.visit is before
    assert trial.verdict in set(Verdict)
    assert w.walk.questions is not None
    assert w.walk.questions.entry.answers == ()


def test_a_reading_carries_its_place_instrument_and_time(walks: Walks):
    w = walks()
    w.proves_dead()
    entry = w.walk.visit.entries[-1]
    reading = entry.answer("highest")
    assert isinstance(reading, Reading)
    assert (reading.value, reading.unit, reading.instrument) == ("0.1", "V", METER)
    assert reading.access_point
    assert reading.at.startswith("2025-06-02T09:")
    assert reading.at.endswith("-04:00")


# -- instruments ---------------------------------------------------------------------------------
def meter(**over: Any) -> Instrument:
    found = next(i for i in visit().instruments if i.kind is InstrumentKind.MULTIMETER)
    return found.model_copy(update=over)


@pytest.mark.parametrize(
    "unfit",
    [
        {"category": "none"},
        {"rated_v": 150},
        {"calibration_due": "2025-06-01"},
        {"kind": InstrumentKind.TAPE},
    ],
)
def test_no_reading_is_taken_with_an_instrument_that_is_not_fit(
    walks: Walks, unfit: dict[str, Any]
):
    bad = Instrument.model_validate({**meter().model_dump(), **unfit}, strict=False)
    w = walks(instruments=(bad,))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.begin("breaker.absence_of_voltage"))
    w.do(lambda walk: walk.acknowledge())
    asked = w.walk.questions.current  # type: ignore[union-attr]
    assert asked is not None
    assert w.walk.instruments_for(asked) == ()
    for named in (METER, "", "not there"):
        w.refused(
            lambda walk, n=named: walk.answer("120.1", unit="V", instrument=n),
            "multimeter in calibration, CAT III, 240 V or more",
        )
    row = w.do(lambda walk: walk.leave_out(NotDoneReason.NO_INSTRUMENT))
    assert row.judgement.verdict is Verdict.NOT_MEASURED


def test_at_the_service_a_meter_must_stand_the_volts_between_the_lines(walks: Walks):
    """A Level 1 point is 120 V, and the service that feeds it is not."""
    check = BY_ID["service.supply_voltage"]
    asked = next(i for i in check.inputs if isinstance(i, Measurement) and i.instruments)
    weak = Instrument(
        id="weak", kind=asked.instruments[0], name="Meter", category=Category.CAT_IV, rated_v=150
    )
    w = walks(points=(level_1(),), instruments=(weak,))
    entry = Entry(number=1, check=check.id, subject="site", at="2025-06-02T12:00:00Z")
    w.walk.questions = Questions(check, entry)
    assert w.walk.instruments_for(asked) == ()
    w.walk.questions = Questions(BY_ID["outlet.no_load_voltage"], entry)
    assert w.walk.instruments_for(asked) == (weak,)


def test_a_corrected_calibration_counts_for_readings_that_were_taken_before(walks: Walks):
    w = walks()
    w.proves_dead()
    row = w.walk.assessment.row(PROOF, POINT)
    assert row.judgement.verdict is Verdict.WITHIN

    def overdue(walk: Walk) -> None:
        walk.take_instruments(
            tuple(
                i.model_copy(update={"calibration_due": "2025-06-01"}) if i.id == METER else i
                for i in walk.visit.instruments
            )
        )

    w.do(overdue)
    row = w.walk.assessment.row(PROOF, POINT)
    assert row.judgement.verdict is Verdict.BORDERLINE
    assert METER in w.walk.used
    w.refused(
        lambda walk: walk.take_instruments(
            tuple(i for i in walk.visit.instruments if i.id != METER)
        ),
        "a reading was taken with it",
    )
    w.refused(lambda walk: walk.take_instruments(walk.visit.instruments * 5), "more than 50")


def test_the_instrument_used_last_is_offered_first(walks: Walks):
    w = walks(instruments=(meter(id="first"), meter(id="second")))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.answers("breaker.absence_of_voltage")
    asked = w.walk.questions.current  # type: ignore[union-attr]
    assert asked is not None
    assert [i.id for i in w.walk.instruments_for(asked)] == ["first", "second"]
    for digits, name in (("120.1", "second"), ("yes", ""), ("0.1", "second"), ("120.2", "second")):
        w.do(lambda walk, d=digits, i=name: walk.answer(d, unit="V", instrument=i))
    w.do(lambda walk: walk.commit())
    assert [i.id for i in w.walk.instruments_for(asked_again(w))] == ["second", "first"]


def asked_again(w: Reopened) -> Any:
    w.answers("breaker.absence_of_voltage")
    assert w.walk.questions is not None
    return w.walk.questions.current


# -- left out, mended ----------------------------------------------------------------------------
def test_a_check_is_left_out_with_its_reason_and_can_be_made_after_all(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.rating"))
    row = w.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS, " locked room "))
    assert row.judgement.verdict is Verdict.NOT_MEASURED
    assert row.judgement.explanation == "Left out, no access: locked room"
    assert w.walk.progress[0] == 1
    w.makes("breaker.rating", "40 A", "2")
    assert len(w.walk.visit.entries) == 2
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.drop())
    assert w.do(lambda walk: walk.undo()) == "Breaker rating"
    assert w.walk.questions is not None
    assert w.walk.questions.entry.not_done is None


def test_a_second_reading_after_mending_keeps_the_first(walks: Walks):
    w = walks()
    w.makes("breaker.rating", "50 A", "1")
    w.makes("breaker.rating", "50 A", "2", after_mending=True)
    first, second = w.walk.visit.entries
    assert (first.after_mending, second.after_mending) == (False, True)
    row = w.walk.assessment.row("breaker.rating", POINT)
    assert (row.entry, row.superseded) == (2, (1,))
    w.do(lambda walk: walk.undo())
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[-1].after_mending  # taken back and made again, it is still that


# -- circuit states ------------------------------------------------------------------------------
def test_energising_is_refused_until_the_dead_tests_stand(walks: Walks):
    w = walks()
    w.refused(
        lambda walk: walk.enter_state(CircuitState.ENERGISED),
        "Bay 1 must not be energised yet.*First: .*Lock and tag",
    )
    w.refused(lambda walk: walk.begin("breaker.lock_and_tag"), "circuit must be dead and proved")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    entered = w.walk.visit.states[0]
    assert entered.cautions
    assert (entered.number, w.walk.state) == (1, CircuitState.DEAD)
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag, Absence of voltage")
    w.makes("breaker.lock_and_tag", "yes", "no", "yes", "yes", "yes")
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag")
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "Lock and tag")
    w.refused(lambda walk: walk.enter_state(CircuitState.UNDER_LOAD), "Lock and tag")
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Panel bus dead")
    w.do(lambda walk: walk.begin("run.insulation"))


def test_dead_again_offers_lock_tag_and_absence_again_before_anything_else(walks: Walks):
    w = walks()
    w.proves_the_bus_dead()
    w.do(lambda walk: walk.begin("run.insulation"))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    proving = [s for s in w.walk.steps if BY_ID[s.row.check].proves]
    assert [s.is_done for s in proving] == [False, False]
    assert not any(s.shut_because for s in proving)
    w.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag")
    stateless = (CircuitState.ANY, CircuitState.NO_CURRENT)
    for step in [s for s in w.walk.steps if s.row.state in stateless]:
        w.walk.begin(step.row.check)
        w.walk.leave_out(NotDoneReason.OTHER)
    coming = w.walk.next_step
    assert not isinstance(coming, CircuitState)
    assert coming is not None
    assert coming.row.check == "breaker.lock_and_tag"


def test_what_was_begun_in_one_state_is_not_gone_on_with_in_another(walks: Walks):
    w = walks()
    w.proves_the_bus_dead()
    w.answers("breaker.terminal_torque", "tightening")
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert w.walk.questions is None
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Lock and tag")
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin("breaker.terminal_torque"), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    again = w.do(lambda walk: walk.begin("breaker.terminal_torque"))
    assert [a.input for a in again.entry.answers] == ["occasion"]


def test_a_state_is_undone_like_an_entry(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    assert w.walk.last_recorded == "circuit dead and proved"
    assert w.do(lambda walk: walk.undo()) == "circuit dead and proved"
    assert (w.walk.state, w.walk.visit.states) == (None, ())
    assert w.do(lambda walk: walk.undo()) == ""


def plausible_but(check: str, first: str) -> list[str]:
    """What is plausible, but for the first answer."""
    answers = [plausible(check, i) for i in BY_ID[check].inputs if i.when is None]
    return [first, *answers[1:]]


def said_to_be(state: str, number: int, at: str = POINT) -> StateEntry:
    return StateEntry(number=number, point=at, state=state, at=NOON)


def test_a_circuit_said_to_be_live_in_error_is_proved_dead_anew(walks: Walks):
    """The record cannot know whether it was switched on (lockout practice: verify again)."""
    w = walks()
    w.proves_dead()
    live = w.walk.visit.model_copy(update={"states": (*w.walk.visit.states, said_to_be(LIVE, 9))})
    again = walks(entries=live.entries, states=live.states)
    assert again.walk.state is CircuitState.ENERGISED
    assert again.do(lambda walk: walk.undo()) == "circuit energised"
    assert again.walk.state is CircuitState.DEAD
    again.refused(lambda walk: walk.begin("run.insulation"), "first: Lock and tag, Absence of")
    again.makes("breaker.lock_and_tag", *LOCKED)
    again.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    again.makes("panel.absence_of_voltage", *BUS_DEAD)
    again.do(lambda walk: walk.begin("run.insulation"))


@pytest.mark.parametrize("state", ["energised", "under load"])
def test_a_panel_is_not_dead_while_another_of_its_circuits_is_live(walks: Walks, state: str):
    w = walks(
        points=(point(), point(id="bay-2", name="Bay 2")),
        states=(said_to_be(state, 1, at="bay-2"),),
    )
    w.proves_dead()
    w.refused(lambda walk: walk.begin("panel.terminals"), "first make dead as well: Bay 2")
    w.do(lambda walk: walk.go_to_point("bay-2"))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.go_to_point(POINT))
    w.refused(lambda walk: walk.begin("panel.terminals"), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    w.do(lambda walk: walk.begin("panel.terminals"))


BUS = "panel.absence_of_voltage"
IN_THE_PANEL = [c.id for c in BY_ID.values() if BUS in c.needs]
AT_THE_PANEL = [
    pytest.param(c.id, o.value, id=f"{c.id} {o.value}")
    for c in BY_ID.values()
    for i in c.inputs
    if isinstance(i, Choice)
    for o in i.options
    if BUS in o.needs
]


@pytest.mark.parametrize("check", IN_THE_PANEL)
def test_no_answer_inside_a_panel_is_given_on_a_live_bus(walks: Walks, check: str):
    """NFPA 70E practice: verified dead before a hand goes in, and verified anew after switching."""
    w = walks()
    w.proves_dead()
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", "yes", "yes", "no", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")
    w.makes("panel.absence_of_voltage", *BUS_DEAD)
    w.do(lambda walk: walk.begin(check))
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.refused(lambda walk: walk.begin(check), "first: Panel bus dead")


def test_a_panel_that_stays_on_is_left_out_with_all_that_needs_it(walks: Walks):
    w = walks()
    w.proves_dead()
    w.do(lambda walk: walk.begin("panel.absence_of_voltage"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER, "the owner needs the panel"))
    shut = {s.row.check for s in w.walk.steps if s.is_barred}
    assert set(IN_THE_PANEL) <= shut
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "Insulation")


@pytest.mark.parametrize(("check", "option"), AT_THE_PANEL)
def test_an_answer_at_the_panel_is_refused_on_a_live_bus(walks: Walks, check: str, option: str):
    """NFPA 70E practice: verified dead before a hand goes in, and verified anew after switching."""
    w = walks()
    w.proves_dead()
    w.answers(check)
    w.refused(lambda walk: walk.answer(option), "answered so now, first: Panel bus dead")
    w.do(lambda walk: walk.drop())
    w.makes(BUS, *BUS_DEAD)
    w.answers(check, option)
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")
    w.answers(check)
    current = w.walk.questions.current if w.walk.questions else None
    assert current is not None
    w.refused(
        lambda walk: walk.answer(plausible(check, current)),
        "answered so now, first: Panel bus dead|no .* was named|no number is typed",
    )


def test_a_panel_that_stays_on_is_tested_from_the_outlet(walks: Walks):
    """Common practice, no source: breaker off, locked, proved dead, tested from the outlet end."""
    w = walks()
    w.proves_dead()
    closed = {
        "panel.neutral_bond": ["closed"],
        "run.protective_conductor": ["closed", "yes", "value", "0.07 Ω"],
        "run.polarity": ["closed", "yes", "yes", "yes"],
        "run.insulation": ["outlet", "yes", "500", "210 MΩ", "190 MΩ", "230 MΩ"],
    }
    for check, answers in closed.items():
        verdict = w.makes(check, *answers)
        assert verdict is not Verdict.OUTSIDE
        gates = {g.state: g for p in w.walk.assessment.points for g in p.gates}
        is_waiting = check in gates[CircuitState.ENERGISED].waiting
        assert is_waiting is (verdict is Verdict.NOT_MEASURED), check


def test_cautions_come_before_the_first_answer(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.do(lambda walk: walk.begin("breaker.lock_and_tag"))
    w.refused(lambda walk: walk.answer("yes"), "Lock and tag: its cautions were not acknowledged")
    w.do(lambda walk: walk.acknowledge())
    w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.drop())
    w.makes("breaker.lock_and_tag", *LOCKED)
    assert w.walk.visit.entries[0].cautions == tuple(
        c.text for c in BY_ID["breaker.lock_and_tag"].cautions
    )


def test_who_opens_nothing_is_offered_no_dead_test(walks: Walks):
    w = walks(role=Role.INSPECTS)
    assert not [s for s in w.walk.steps if s.row.state is CircuitState.DEAD]
    w.refused(lambda walk: walk.begin("breaker.lock_and_tag"), "does not apply here")


def looks_sound(w: Reopened) -> None:
    """Make every check that needs no state, as the eye finds a sound installation."""
    while isinstance(step := w.walk.next_step, Step):
        w.walk.begin(step.row.check)
        w.walk.acknowledge()
        while (asked := w.walk.questions and w.walk.questions.current) is not None:
            value = plausible(step.row.check, asked)
            fit = w.walk.instruments_for(asked)
            unit = getattr(asked, "units", ("",))[0]
            if value:
                w.walk.answer(value, unit=unit, instrument=fit[0].id if fit else "", sure=True)
            else:
                w.walk.pass_over()
        w.walk.commit()


def test_who_opens_nothing_energises_nothing_and_says_who_did(walks: Walks):
    w = walks(role=Role.INSPECTS)
    how = w.walk.switching(CircuitState.ENERGISED)
    assert how.title == "Is the circuit live?"
    assert not any("becomes live" in c.text for c in how.cautions)
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), "nobody is named.*energised")
    w.do(
        lambda walk: walk.enter_state(
            CircuitState.ENERGISED, brought_by=" Sam Sample, Example Electric ", is_found=True
        )
    )
    (entered,) = w.walk.visit.states
    assert (entered.brought_by, entered.is_found) == ("Sam Sample, Example Electric", True)
    assert entered.cautions == tuple(c.text for c in how.cautions)


def test_who_opens_nothing_starts_a_charge_only_where_allowed_and_after_the_looks(walks: Walks):
    w = walks(role=Role.INSPECTS)
    looks_sound(w)
    assert w.walk.next_step is CircuitState.ENERGISED
    w.do(lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam", is_found=True))
    w.refused(
        lambda walk: walk.enter_state(CircuitState.UNDER_LOAD, brought_by="Sam"),
        "must not be under load yet.*Volts without load",
    )
    looks_sound(w)
    assert w.walk.next_step is CircuitState.UNDER_LOAD
    assert w.walk.switching(CircuitState.UNDER_LOAD).title == "May a charge be started?"
    load = [s.row.check for s in w.walk.steps if s.row.state is CircuitState.UNDER_LOAD]
    w.do(lambda walk: walk.go_without(CircuitState.UNDER_LOAD, NotDoneReason.OTHER, "No car"))
    assert w.walk.next_step is None
    assert {e.check for e in w.walk.visit.entries if e.not_done} == set(load)
    w.do(lambda walk: walk.undo())
    assert w.walk.next_step is CircuitState.UNDER_LOAD
    w.do(lambda walk: walk.enter_state(CircuitState.UNDER_LOAD, brought_by="Sam"))
    assert w.walk.state is CircuitState.UNDER_LOAD


def test_a_danger_shuts_the_live_states_for_who_opens_nothing_too(walks: Walks):
    w = walks(role=Role.INSPECTS)
    w.makes("outlet.damage", *plausible_but("outlet.damage", "yes"))
    assert w.walk.assessment.row("outlet.damage", POINT).judgement.severity is Severity.DANGER
    w.refused(
        lambda walk: walk.enter_state(CircuitState.ENERGISED, brought_by="Sam"),
        "must not be energised yet",
    )


def test_a_load_is_taken_back_only_once_its_current_is_at_zero(walks: Walks):
    """Without load a hand may be on the coupler: common practice, no source."""
    states = (said_to_be(LIVE, 1), said_to_be("under load", 2))
    w = walks(states=states)
    assert w.walk.undo_ends_load
    w.refused(lambda walk: walk.undo(), "a charge may still run")
    w.refused(lambda walk: walk.begin("connector.seating"), "end the charge")
    assert w.do(lambda walk: walk.undo(has_ended=True)) == "circuit under load"
    assert w.walk.state is CircuitState.ENERGISED
    w.do(lambda walk: walk.begin("connector.seating"))


def test_taking_the_load_off_asks_for_the_end_of_the_charge_and_energises_nothing(walks: Walks):
    w = walks(states=(said_to_be(LIVE, 1), said_to_be("under load", 2)))
    how = w.walk.switching(CircuitState.ENERGISED)
    assert how.title == "Take the load off"
    assert [c.words for c in how.claims] == ["The charge has ended, current at zero"]
    assert not any("becomes live" in c.text for c in how.cautions)


@pytest.mark.parametrize("said", list(DangerAnswer))
def test_what_was_answered_to_a_danger_is_recorded_with_the_entry(walks: Walks, said: DangerAnswer):
    w = walks()
    w.answers("outlet.damage", *plausible_but("outlet.damage", "yes"))
    assert w.walk.awaits_danger is not None
    w.do(lambda walk: walk.answer_danger(said))
    assert w.walk.awaits_danger is None
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[-1].danger is said
    assert w.walk.stays_on is (said is DangerAnswer.STAYS_ON)


def test_a_danger_that_was_a_slip_interrupts_again_when_it_is_back(walks: Walks):
    w = walks()
    first = BY_ID["outlet.damage"].inputs[0].name
    w.answers("outlet.damage", *plausible_but("outlet.damage", "yes"))
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    w.do(lambda walk: walk.go_to(first))
    w.do(lambda walk: walk.answer("no"))
    assert w.walk.questions is not None
    assert w.walk.questions.entry.danger is None


def test_a_check_that_may_not_be_made_now_is_left_out_and_stays_shut_when_that_is_undone(
    walks: Walks,
):
    w = walks()
    w.do(
        lambda walk: walk.leave_out(
            NotDoneReason.NO_ACCESS, "Closed wall", check_id="run.insulation"
        )
    )
    assert w.walk.visit.entries[-1].not_done is not None
    w.do(lambda walk: walk.undo())
    assert w.walk.visit.entries == ()
    assert w.walk.questions is None
    w.refused(lambda walk: walk.begin("run.insulation"), "circuit must be dead and proved")


# -- points and panels ---------------------------------------------------------------------------
def test_undo_follows_the_entry_to_its_point(walks: Walks):
    """Taken back at another point, an entry must not be made again at the wrong one."""
    w = walks(points=(point(), point(id="bay-2", name="Bay 2")))
    w.do(lambda walk: walk.go_to_point("bay-2"))
    w.makes("breaker.rating", "40 A", "2")
    w.do(lambda walk: walk.go_to_point(POINT))
    w.do(lambda walk: walk.undo())
    assert w.walk.point_id == "bay-2"
    w.do(lambda walk: walk.commit())
    assert [e.subject for e in w.walk.visit.entries] == ["bay-2"]


def test_what_is_recorded_at_a_shared_station_counts_for_every_point(walks: Walks):
    w = walks(
        panels=(Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")),
        points=(point(), point(id="bay-2"), point(id="bay-3", panel="panel-b")),
    )
    w.do(lambda walk: walk.begin("service.rating"))
    w.do(lambda walk: walk.leave_out(NotDoneReason.NO_ACCESS))
    done = {}
    for name in (POINT, "bay-2", "bay-3"):
        w.do(lambda walk, n=name: walk.go_to_point(n))
        done[name] = [s.row.check for s in w.walk.steps if s.is_done]
    assert list(done.values()) == [["service.rating"]] * 3


# -- the end -------------------------------------------------------------------------------------
def test_a_change_after_the_signature_asks_for_a_new_one(walks: Walks):
    w = walks()
    signed = SignOff(
        at="2025-06-02T10:00:00-04:00", decision=Decision.KEEP_OUT, strokes=(((0, 0), (9, 9)),)
    )
    w.do(lambda walk: walk.sign_off(signed))
    assert w.walk.visit.signoff == signed
    w.makes("breaker.condition", *CONDITION)
    assert w.walk.visit.signoff is None


def test_a_full_disk_loses_nothing_that_was_answered(walks: Walks, monkeypatch: pytest.MonkeyPatch):
    w = walks()
    w.answers("breaker.rating", "40 A", "2")
    before = seen(w.walk)

    def full(*_: object, **__: object) -> None:
        raise RecordError("the disk is full", where="store", remedy="Make room")

    for step in (lambda: w.walk.commit(), lambda: w.walk.enter_state(CircuitState.DEAD)):
        with monkeypatch.context() as patch:
            patch.setattr(w.store, "save", full)
            with pytest.raises(RecordError, match="disk is full"):
                step()
        assert seen(w.walk) == before
    assert w.walk.commit().entry == 1


def test_a_record_made_by_walking_reads_like_one_from_outside(walks: Walks):
    w = walks(points=(point(inlet=Coupler.J3400),))
    w.proves_dead()
    stored = w.store.load(w.id).visit
    assert Visit.model_validate_json(json.dumps(stored)) == w.walk.visit


def test_no_check_is_open_until_one_is_begun(walks: Walks):
    w = walks()
    for step in (Walk.commit, Walk.back, Walk.acknowledge, Walk.pass_over):
        with pytest.raises(WalkError, match=r"no check is open\. Open a check first"):
            step(w.walk)
