"""What every declared check must be, read from the declarations and from the stations' source.

How the judges behave on records is in `tests/properties/test_judges.py`.
"""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from types import UnionType
from typing import Any

import pytest

from checks.check import (
    AnyInput,
    Check,
    Choice,
    CircuitState,
    Input,
    Measurement,
    Rating,
    Series,
    Words,
    YesNo,
)
from checks.path import Station
from checks.record import Category
from checks.stations.all import CHECKS
from checks.units import UNITS, Dimension, to_si
from checks.verdict import Severity

ROOT = Path(__file__).resolve().parents[2]
STATIONS = sorted(p for d in ("stations", "causes") for p in (ROOT / "checks" / d).rglob("*.py"))
BY_ID = {check.id: check for check in CHECKS}
EACH = [pytest.param(check, id=check.id) for check in CHECKS]
INPUTS = [(check, asked) for check in CHECKS for asked in check.inputs]
NAME = re.compile(r"[a-z][a-z0-9_]*")


def inputs(kind: type[AnyInput] | UnionType, *, hanging: bool = False) -> list[Any]:
    """The inputs of a kind; only those that hang on another when asked so."""
    return [
        pytest.param(check, asked, id=f"{check.id}.{asked.name}")
        for check, asked in INPUTS
        if isinstance(asked, kind) and (asked.when or not hanging)
    ]


# What an accessor of a Situation may be pointed at. A Series is a Measurement to the declaration,
# but its readings are read with `series`.
FITS = {
    "choice": Choice,
    "yes": YesNo,
    "words": Words,
    "rating": Rating,
    "measured": Measurement,
    "series": Series,
}


# -- identity ------------------------------------------------------------------------------------
def test_ids_are_unique_and_titles_tell_checks_of_one_station_apart():
    assert [k for k, n in Counter(c.id for c in CHECKS).items() if n > 1] == []
    assert [k for k, n in Counter((c.station, c.title) for c in CHECKS).items() if n > 1] == []


def test_checks_run_along_the_path_and_every_station_has_some():
    order = [list(Station).index(c.station) for c in CHECKS]
    assert order == sorted(order)
    assert [s.value for s in Station if not any(c.station is s for c in CHECKS)] == []


@pytest.mark.parametrize("check", EACH)
def test_a_check_says_what_it_is_and_how_it_is_made(check: Check):
    station, _, subject = check.id.partition(".")
    assert station in set(Station)
    assert NAME.fullmatch(subject)
    assert check.title.strip() == check.title
    assert check.title[:1].isupper() or check.title[:1].isdigit()
    assert not check.title.endswith(".")
    assert check.how.endswith((".", "?"))
    assert len(check.how.split()) >= 4
    assert check.inputs
    assert check.kinds


@pytest.mark.parametrize("check", EACH)
def test_what_a_check_calls_its_number_is_a_word_or_two(check: Check):
    assert len(check.quantity.split()) <= 2
    assert check.quantity == check.quantity.strip()
    assert check.quantity[:1].upper() == check.quantity[:1]


@pytest.mark.parametrize("check", EACH)
def test_inputs_have_names_of_their_own_and_labels(check: Check):
    names = [i.name for i in check.inputs]
    assert len(set(names)) == len(names)
    assert [n for n in names if not NAME.fullmatch(n)] == []
    assert [i.name for i in check.inputs if not i.label.strip()] == []


# -- questions and their options -----------------------------------------------------------------
@pytest.mark.parametrize(("check", "asked"), inputs(Input, hanging=True))
def test_a_question_hangs_on_an_earlier_one_with_an_answer_that_exists(
    check: Check, asked: AnyInput
):
    assert asked.when is not None
    earlier = check.inputs[: check.inputs.index(asked)]
    on = next((i for i in earlier if i.name == asked.when.input), None)
    assert on is not None, f"{asked.when.input} is not asked before {asked.name}"
    assert isinstance(on, Choice | YesNo)
    known = [o.value for o in on.options] if isinstance(on, Choice) else ["yes", "no"]
    assert asked.when.answers
    assert set(asked.when.answers) <= set(known)


@pytest.mark.parametrize(("check", "asked"), inputs(YesNo))
def test_what_yes_and_no_mean_is_a_few_words_each_and_not_the_same(check: Check, asked: YesNo):
    yes, no = asked.says
    assert yes != no
    assert all(1 <= len(words.split()) <= 3 and words[0].isupper() for words in asked.says)
    assert asked.has_words is not bool(set(asked.says) & {"Yes", "No"})


@pytest.mark.parametrize("check", EACH)
def test_where_yes_is_good_once_and_bad_once_every_answer_says_what_was_seen(check: Check):
    judged = [i for i in check.inputs if isinstance(i, YesNo) and i.good is not None]
    if len({i.good for i in judged}) > 1:
        assert [i.name for i in judged if not i.has_words] == []


@pytest.mark.parametrize(("check", "asked"), inputs(YesNo))
def test_where_yes_is_bad_each_answer_says_what_was_seen(check: Check, asked: YesNo):
    """So the sound answer stands in one place, and no thumb learns that yes is the good one."""
    assert asked.good is not False or asked.has_words


@pytest.mark.parametrize(("check", "asked"), inputs(Choice))
def test_a_choice_offers_two_options_or_more_each_once(check: Check, asked: Choice):
    assert len(asked.options) >= 2
    for said in ([o.value for o in asked.options], [o.words for o in asked.options]):
        assert len(set(said)) == len(said)


@pytest.mark.parametrize("check", EACH)
def test_a_check_can_be_finished_only_by_an_answer(check: Check):
    """With every question optional, a check could be entered with nothing in it."""
    assert [i.name for i in check.inputs if not i.optional and i.when is None]


# -- numbers -------------------------------------------------------------------------------------
# What no reading in this trade goes beyond, in the unit used inside. Own judgement: a net for
# slips in a declaration (a range in mA that was meant in A), not a limit of anything.
BEYOND = {
    Dimension.VOLTAGE: 1500.0,
    Dimension.CURRENT: 250_000.0,
    Dimension.RESISTANCE: 1e12,
    Dimension.LENGTH: 2000.0,
    Dimension.AREA: 10_000.0,
    Dimension.TEMPERATURE: 400.0,
    Dimension.RISE: 400.0,
    Dimension.TORQUE: 200.0,
    Dimension.FORCE: 2000.0,
    Dimension.TIME: 100_000.0,
    Dimension.RATIO: 100.0,
    Dimension.POWER: 2e6,
    Dimension.APPARENT_POWER: 2e6,
    Dimension.ENERGY: 1e9,
    Dimension.COUNT: 1000.0,
}


@pytest.mark.parametrize(("check", "asked"), inputs(Measurement | Rating))
def test_units_fit_the_dimension_and_the_plausible_range_makes_sense(
    check: Check, asked: Measurement | Rating
):
    assert asked.units
    assert len(set(asked.units)) == len(asked.units)
    assert [u for u in asked.units if UNITS[u].dimension is not asked.dimension] == []
    low, high = asked.plausible
    assert low < high <= BEYOND[asked.dimension]
    signed = isinstance(asked, Measurement) and asked.signed
    coldest = float(to_si(-273.15, "°C"))
    assert low >= (coldest if signed else 0.0)


def test_a_temperature_may_be_below_zero_and_is_offered_in_both_scales():
    found = [
        i for _, i in INPUTS if isinstance(i, Measurement) and i.dimension is Dimension.TEMPERATURE
    ]
    assert found
    assert [i.label for i in found if not i.signed or set(i.units) != {"°C", "°F"}] == []


@pytest.mark.parametrize(("check", "asked"), inputs(Measurement))
def test_a_measurement_says_where_the_probes_go(check: Check, asked: Measurement):
    """What is read off a display or a plate needs no instrument, but it needs its place."""
    assert asked.access_point.strip()
    assert asked.instruments or asked.category is Category.NONE


LIVE = (CircuitState.ENERGISED, CircuitState.UNDER_LOAD)
ON_A_LIVE_CIRCUIT = [pytest.param(c, id=c.id) for c in CHECKS if c.state in LIVE]


@pytest.mark.parametrize("check", ON_A_LIVE_CIRCUIT)
def test_volts_of_a_live_circuit_ask_for_a_category(check: Check):
    """Probes on line-voltage points want CAT III, CAT IV at the service (IEC 61010-2-030)."""
    needed = Category.CAT_IV if check.station is Station.SERVICE else Category.CAT_III
    uncovered = [
        i.name
        for i in check.inputs
        if isinstance(i, Measurement)
        and i.instruments
        and i.dimension is Dimension.VOLTAGE
        and i.plausible[1] > 50.0  # extra-low voltage such as the pilot's is another matter
        and not i.category.covers(needed)
    ]
    assert uncovered == []


def probes(check: Check) -> bool:
    """Whether an instrument is put to something in this check."""
    return any(isinstance(i, Measurement) and i.instruments for i in check.inputs)


# -- states and cautions -------------------------------------------------------------------------
@pytest.mark.parametrize("check", EACH)
def test_gates_stand_before_the_last_state(check: Check):
    if check.proves:
        assert check.gates
        assert check.state is CircuitState.DEAD
    if check.gates:
        assert check.state is not CircuitState.UNDER_LOAD


@pytest.mark.parametrize("check", [c for c in ON_A_LIVE_CIRCUIT if probes(c.values[0])])
def test_a_probe_on_a_live_circuit_comes_after_a_caution(check: Check):
    assert check.cautions


def test_a_caution_says_something_with_its_signal_word():
    found = [(c.id, caution) for c in CHECKS for caution in c.cautions]
    assert [i for i, c in found if c.signal not in set(Severity) or len(c.text.split()) < 4] == []


def test_lock_tag_and_absence_of_voltage_prove_a_circuit_dead():
    assert [c.id for c in CHECKS if c.proves] == [
        "breaker.lock_and_tag",
        "breaker.absence_of_voltage",
    ]


@pytest.mark.parametrize("check", EACH)
def test_what_a_check_needs_is_another_check(check: Check):
    assert set(check.needs) <= set(BY_ID) - {check.id}


# -- signs of a toy ------------------------------------------------------------------------------
def test_at_most_a_third_of_the_checks_read_no_limit():
    flagged = [c.id for c in CHECKS if c.no_limit_because]
    assert len(flagged) * 3 <= len(CHECKS), flagged
    assert [c for c in flagged if len(BY_ID[c].no_limit_because.split()) < 4] == []


# -- references in the source --------------------------------------------------------------------
REFERENCE = re.compile(rf"({'|'.join(Station)})(\.[a-z][a-z0-9_]*){{1,2}}")


def references() -> Iterator[tuple[str, str, str]]:
    """Every ``station.check`` or ``station.check.input`` that is named, with its accessor."""
    for path in STATIONS:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        accessors = {
            id(call.args[0]): call.func.attr
            for call in ast.walk(tree)
            if isinstance(call, ast.Call) and isinstance(call.func, ast.Attribute) and call.args
        }
        for node in ast.walk(tree):
            text = node.value if isinstance(node, ast.Constant) else None
            if isinstance(text, str) and REFERENCE.fullmatch(text):
                yield f"{path.relative_to(ROOT)}:{node.lineno}", text, accessors.get(id(node), "")


def wrong(reference: str, accessor: str) -> str:
    """What is wrong with a reference; empty when it is right."""
    check_id, _, name = reference.rpartition(".")
    if reference in BY_ID:
        return f"{accessor} names a check, not an input" if accessor in FITS else ""
    if check_id not in BY_ID:
        return "no such check"
    asked = BY_ID[check_id].input(name)
    if asked is None:
        return "no such input"
    fits = FITS.get(accessor, type(asked))
    is_series = isinstance(asked, Series)
    if not isinstance(asked, fits) or (accessor == "measured" and is_series):
        return f"{accessor} on a {type(asked).__name__}"
    return ""


def test_every_reference_names_a_declared_input_with_the_accessor_of_its_kind():
    found = list(references())
    assert len(found) > len(CHECKS)
    assert [f"{w} {r}: {wrong(r, a)}" for w, r, a in found if wrong(r, a)] == []


@pytest.mark.parametrize(
    ("reference", "accessor", "problem"),
    [
        ("breaker.rating.rated_a", "rating", ""),
        ("breaker.rating.rated_a", "measured", "measured on a Rating"),
        ("breaker.rating.poles", "yes", "yes on a Choice"),
        ("breaker.rating.color", "choice", "no such input"),
        ("breaker.color.rated_a", "rating", "no such check"),
        ("breaker.rating", "entry", ""),
        ("breaker.rating", "choice", "choice names a check, not an input"),
    ],
)
def test_a_wrong_reference_would_be_seen(reference: str, accessor: str, problem: str):
    assert wrong(reference, accessor) == problem


# -- sources ---------------------------------------------------------------------------------------
def test_no_practice_of_the_trade_is_a_rule_from_memory():
    """A rule that was not looked up proves nothing good; common practice does."""
    root = Path(__file__).resolve().parents[2] / "checks"
    said = [
        (path.name, node.lineno)
        for path in root.rglob("*.py")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "trade"
        if "from memory" in ast.unparse(node)
    ]
    assert said == []
