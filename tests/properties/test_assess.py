"""Properties of the assessment: deterministic, blind to order, and fair to a worse reading."""

import json
from random import Random
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from checks.assess import assess
from checks.check import Choice, Measurement, YesNo
from checks.codes import profile
from checks.record import Visit
from checks.stations.all import BY_ID
from checks.units import UNITS, from_si, to_si
from checks.verdict import Verdict
from fieldapp.store.canonical import canonical
from tests.builders import conductor, judge, level_1, visit, with_entries
from tests.strategies import filled, seeds, shapes

NEC = profile("nec_2023")
relaxed = settings(
    max_examples=50, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck)
)


def bytes_of(made: Visit) -> bytes:
    return canonical(assess(made, NEC).model_dump(mode="json"))


# -- the record and the assessment ---------------------------------------------------------------
@relaxed
@given(shapes(most_points=2), seeds)
def test_the_same_record_gives_the_same_bytes_in_whatever_order_its_entries_stand(
    shape: Visit, seed: int
):
    rng = Random(seed)
    made = filled(shape, rng)
    # earlier entries too, so that which one counts could depend on the order
    older = filled(shape, rng)
    entries = [e.model_copy(update={"number": n}) for n, e in enumerate(older.entries, 1)]
    entries += [e.model_copy(update={"number": len(entries) + e.number}) for e in made.entries]
    shuffled = list(entries)
    rng.shuffle(shuffled)
    first = made.model_copy(update={"entries": tuple(entries)})
    assert bytes_of(first) == bytes_of(first)
    assert bytes_of(first) == bytes_of(made.model_copy(update={"entries": tuple(shuffled)}))


@relaxed
@given(shapes(most_points=3), seeds)
def test_a_record_comes_back_from_json_and_from_its_canonical_bytes(shape: Visit, seed: int):
    made = filled(shape, Random(seed))
    assert Visit.model_validate_json(made.model_dump_json()) == made
    assert Visit.model_validate_json(canonical(made.model_dump(mode="json"))) == made
    document = made.model_dump(mode="json")
    assert json.loads(canonical(document)) == document


@relaxed
@given(shapes(most_points=2), seeds)
def test_the_whole_is_as_bad_as_its_worst_part(shape: Visit, seed: int):
    found = assess(filled(shape, Random(seed)), NEC)
    verdicts = [r.judgement.verdict for r in found.rows]
    assert len(found.findings) == sum(v in (Verdict.OUTSIDE, Verdict.BORDERLINE) for v in verdicts)
    if Verdict.OUTSIDE in verdicts:
        assert found.verdict is Verdict.OUTSIDE
    if found.verdict is Verdict.WITHIN:
        assert set(verdicts) <= {Verdict.WITHIN, Verdict.NOT_APPLICABLE}
    for point in found.points:
        for station in (*point.path, *point.beside):
            if station.verdict is Verdict.WITHIN:
                here = [
                    r.judgement.verdict
                    for r in found.rows
                    if (r.station, r.subject) == (station.station, station.subject)
                ]
                assert set(here) <= {Verdict.WITHIN, Verdict.NOT_APPLICABLE}


# -- units ---------------------------------------------------------------------------------------
@given(st.sampled_from(sorted(UNITS)), st.floats(min_value=-1e6, max_value=1e6, allow_nan=False))
def test_what_goes_in_by_one_unit_comes_out_by_it(symbol: str, value: float):
    assert from_si(to_si(value, symbol), symbol) == pytest.approx(value, rel=1e-9, abs=1e-9)


@given(st.floats(min_value=-200, max_value=1000), st.floats(min_value=-200, max_value=1000))
def test_a_difference_of_two_fahrenheit_readings_is_a_rise(a: float, b: float):
    rise_k = to_si(a, "°F") - to_si(b, "°F")
    assert from_si(rise_k, "°F rise") == pytest.approx(a - b, abs=1e-9)


# -- a worse reading never improves a verdict ----------------------------------------------------
RANK = {Verdict.WITHIN: 0, Verdict.BORDERLINE: 1, Verdict.OUTSIDE: 2}
PROVED = {
    "known_before": "120.4 V",
    "is_every_pair": True,
    "highest": "0.1 V",
    "known_after": "120.3 V",
}
GRIP = {"feel": "firm", "line_force": "30.0 N"}
RECEPTACLE = {"outlet.configuration": {"kind": "5-15"}}
RUN = {
    "charger.nameplate": {"rated_a": "32 A"},
    "run.length": {"length": "20.0 m", "basis": "measured"},
    "run.conductor": conductor("8 AWG"),
    "run.grounding_conductor": {"kind": "wire", "size": "10 AWG", "material": "copper"},
}
LOADED = {
    "outlet_no_load": "241.0 V",
    "current": "31.5 A",
    "outlet_loaded": "236.0 V",
    "panel_no_load": "241.5 V",
    "panel_loaded": "240.0 V",
}
TIGHT = {"occasion": "tightening", "label": "4.0 N·m", "applied": "4.0 N·m", "are_all_done": True}

# Check, its input, whether more is worse, the other entries, its own other answers, range and unit.
WORSE = [
    ("breaker.absence_of_voltage", "highest", True, {}, PROVED, (0.0, 240.0), "V"),
    ("breaker.absence_of_voltage", "known_before", False, {}, PROVED, (0.0, 130.0), "V"),
    ("breaker.absence_of_voltage", "known_after", False, {}, PROVED, (0.0, 130.0), "V"),
    ("breaker.terminal_torque", "applied", True, {}, TIGHT, (4.0, 8.0), "N·m"),
    ("breaker.terminal_torque", "applied", False, {}, TIGHT, (0.5, 4.0), "N·m"),
    ("outlet.retention", "ground_force", False, RECEPTACLE, GRIP, (0.1, 20.0), "N"),
    ("run.protective_conductor", "ohm", True, RUN, {}, (0.01, 2.0), "Ω"),
    ("run.insulation", "line_ground", False, {}, {}, (0.1, 500.0), "MΩ"),
    ("outlet.loaded_voltage", "outlet_loaded", False, RUN, LOADED, (200.0, 241.0), "V"),
    ("outlet.loaded_voltage", "panel_loaded", True, RUN, LOADED, (238.8, 241.0), "V"),
]


def base_of(check: str, own: dict[str, Any]) -> dict[str, Any]:
    if check == "run.insulation":
        return insulation()
    if check == "run.protective_conductor":
        return {"place": "panel", "reading": "value", "are_leads_nulled": True, **own}
    return own


def insulation() -> dict[str, Any]:
    """Every answer of the insulation test as good as it can be."""
    good: dict[str, Any] = {}
    for asked in BY_ID["run.insulation"].inputs:
        if isinstance(asked, YesNo):
            good[asked.name] = asked.good is not False
        elif isinstance(asked, Choice):
            good[asked.name] = asked.options[0].value
        elif isinstance(asked, Measurement):
            good[asked.name] = "900 MΩ"
    return good


@pytest.mark.parametrize(
    ("check", "name", "more_is_worse", "entries", "own", "span", "unit"),
    [pytest.param(*row, id=f"{row[0]}.{row[1]}.{row[2]}") for row in WORSE],
)
@settings(max_examples=25, deadline=None, derandomize=True)
@given(data=st.data())
def test_a_worse_reading_never_improves_a_verdict(
    check: str,
    name: str,
    more_is_worse: bool,
    entries: dict[str, Any],
    own: dict[str, Any],
    span: tuple[float, float],
    unit: str,
    data: st.DataObject,
):
    point = level_1() if check == "outlet.retention" else None
    made = visit(points=(point,)) if point else visit()
    low, high = span
    tenths = st.integers(min_value=round(low * 100), max_value=round(high * 100))
    better, worse = sorted((data.draw(tenths), data.draw(tenths)), reverse=not more_is_worse)

    def rank(value: int) -> int:
        answers = {**base_of(check, own), name: f"{value / 100:.2f} {unit}"}
        verdict = judge(with_entries(made, {**entries, check: answers}), check).verdict
        assert verdict in RANK, verdict
        return RANK[verdict]

    assert rank(worse) >= rank(better)


def test_the_ladder_of_verdicts_is_climbed_for_each_of_them():
    """Both ends of each range lead to different verdicts, or the property above says nothing."""
    flat = []
    for check, name, _, entries, own, span, unit in WORSE:
        made = visit(points=(level_1(),)) if check == "outlet.retention" else visit()
        seen = set()
        for value in span:
            answers = {**base_of(check, own), name: f"{value:.2f} {unit}"}
            seen.add(judge(with_entries(made, {**entries, check: answers}), check).verdict)
        if len(seen) < 2:
            flat.append((check, name, seen))
    assert flat == []
