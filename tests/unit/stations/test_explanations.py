"""What a person reads: numbers with their units, and words that fit a phone."""

import re
from functools import cache
from random import Random

import pytest

from checks.assess import Row, assess
from checks.check import AnyInput, Choice, CircuitState, Measurement
from checks.codes import profile
from checks.record import InstrumentKind
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from tests.builders import visit
from tests.sound_visits import BASES, built
from tests.strategies import filled, full_entry, points_of

FITS_A_PHONE = 28  # characters on one line of the small phone, by the width of the screen's font
SAMPLES = [
    *(built(base, {}) for base in BASES),
    *(
        filled(visit(points=(here,)), Random(seed), full_entry)
        for seed in range(4)
        for here in points_of(visit().system)
    ),
]
MEASURED = [c for c in BY_ID.values() if any(isinstance(i, Measurement) for i in c.inputs)]
INPUTS = [(check, asked) for check in BY_ID.values() for asked in check.inputs]


@cache
def every_row() -> tuple[Row, ...]:
    """What is said of all samples."""
    return tuple(r for made in SAMPLES for r in assess(made, profile("nec_2023")).rows)


@pytest.mark.parametrize("check", [pytest.param(c.id, id=c.id) for c in MEASURED])
def test_an_explanation_of_a_measured_value_says_it_with_its_unit(check: str):
    rows = [r for r in every_row() if r.check == check]
    found = [r.judgement for r in rows if r.judgement.measured is not None]
    silent = [j.explanation for j in found if not says(j.explanation, j.measured.unit)]
    assert silent == []


def test_what_is_borderline_says_what_would_settle_it():
    old = [i.model_copy(update={"calibration_due": "2020-01-01"}) for i in visit().instruments]
    overdue = built("receptacle", {}).model_copy(update={"instruments": tuple(old)})
    rows = (*every_row(), *assess(overdue, profile("nec_2023")).rows)
    found = [r for r in rows if r.judgement.verdict is Verdict.BORDERLINE]
    assert len({r.check for r in found}) > 20
    assert [(r.check, r.judgement.explanation) for r in found if not r.judgement.settles] == []
    assert any("past its calibration" in r.judgement.explanation for r in found)


def says(words: str, unit: str) -> bool:
    return re.search(rf"\d ?{re.escape(unit)}(?!\w)", words) is not None


@pytest.mark.parametrize("base", BASES)
def test_what_is_good_names_its_numbers_too(base: str):
    rows = assess(built(base, {}), profile("nec_2023")).rows
    # by feel there is no number, nor where nothing is buried
    numbered = {c.id for c in MEASURED} - {"outlet.retention", "run.protection"}
    good = [r for r in rows if r.check in numbered and r.judgement.verdict is Verdict.WITHIN]
    assert len(good) > 15
    assert [r.check for r in good if not re.search(r"\d", r.judgement.explanation)] == []


def test_no_explanation_says_the_opposite_of_what_was_answered():
    rows = assess(built("receptacle", {}), profile("nec_2023")).rows
    negative = [i.label for _, i in INPUTS if getattr(i, "good", None) is False]
    good = [r.judgement.explanation for r in rows if r.judgement.verdict is Verdict.WITHIN]
    assert [words for words in good for label in negative if label in words] == []


def lines(asked: AnyInput) -> list[str]:
    options = [o.words for o in asked.options] if isinstance(asked, Choice) else []
    return [asked.label, *options]


def test_titles_labels_and_options_fit_a_phone():
    words = [c.title for c in BY_ID.values()] + [w for _, i in INPUTS for w in lines(i)]
    assert [w for w in words if len(w) > FITS_A_PHONE] == []


# -- where hands and probes go -------------------------------------------------------------------
CLAMPED = [
    pytest.param(i.access_point, id=f"{c.id}.{i.name}")
    for c, i in INPUTS
    if isinstance(i, Measurement) and InstrumentKind.CLAMP in i.instruments
]


@pytest.mark.parametrize("place", CLAMPED)
def test_a_clamp_goes_where_nobody_need_open_anything(place: str):
    assert "guarded" in place
    assert "break-out adapter" in place
    assert "display" not in place


@pytest.mark.parametrize(
    "check",
    [c.id for c in BY_ID.values() if c.opens or c.state is CircuitState.DEAD],
)
def test_what_opens_something_has_a_caution_at_the_step(check: str):
    assert BY_ID[check].cautions


@pytest.mark.parametrize(
    "check",
    [
        "run.insulation",
        "run.polarity",
        "run.protective_conductor",
        "breaker.terminal_torque",
        "breaker.absence_of_voltage",
        "panel.terminals",
        "panel.neutral_bond",
    ],
)
def test_work_in_a_panel_names_what_stays_live(check: str):
    words = " ".join(caution.text for caution in BY_ID[check].cautions)
    assert re.search(r"stays? live", words)


def test_the_insulation_test_spares_electronics_and_discharges():
    check = BY_ID["run.insulation"]
    assert [i.name for i in check.inputs[:2]] == ["place", "is_disconnected"]
    words = " ".join(caution.text for caution in check.cautions)
    assert "electronics" in words
    assert "discharge" in words


@pytest.mark.parametrize(
    ("check", "replaced"),
    [
        ("connector.pins", "replace the cable"),
        ("vehicle.inlet_condition", "until the vehicle's workshop has replaced it"),
    ],
)
def test_a_burnt_part_is_replaced_and_not_its_neighbor(check: str, replaced: str):
    made = built("receptacle", {check: {"has_burn_marks": True}})
    rows = assess(made, profile("nec_2023")).rows
    found = next(r.judgement for r in rows if r.check == check)
    assert found.verdict is Verdict.OUTSIDE
    assert replaced in found.remedy
