"""Instruments on the walk: what is fit, what is offered, what is corrected."""

from typing import Any

import pytest

from checks.check import CircuitState, Measurement
from checks.record import (
    Category,
    Entry,
    Instrument,
    InstrumentKind,
    NotDoneReason,
)
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from fieldapp.walk.kit import GENERIC_KIT
from fieldapp.walk.questions import Questions
from fieldapp.walk.visit import Walk
from tests.builders import POINT, level_1, visit
from tests.unit.walk.reopened import LOCKED, METER, PROOF, Reopened, Walks


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


def test_few_milliohms_are_read_with_the_meter_that_tells_them_apart(walks: Walks):
    """Of two that are fit the ohmmeter goes first, whatever the volts were read with."""
    w = walks(instruments=GENERIC_KIT)
    asked = BY_ID["run.protective_conductor"].input("ohm")
    assert isinstance(asked, Measurement)
    w.proves_the_bus_dead()  # the multimeter was used last, and for another quantity
    w.do(lambda walk: walk.begin("run.protective_conductor"))
    kinds = [i.kind for i in w.walk.instruments_for(asked)]
    assert kinds == [InstrumentKind.LOW_OHM, InstrumentKind.MULTIMETER]
