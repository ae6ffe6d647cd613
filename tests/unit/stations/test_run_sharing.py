"""What else hangs on the charger's circuit."""

import re
from typing import Any

from checks.verdict import Judgement, Severity, Verdict
from tests.builders import judge, level_1, visit, with_entries
from tests.unit.stations.run_entries import circuit


def test_level_1_adds_up_what_hangs_on_the_circuit():
    # 12 A at 120 V need no circuit of their own (NEC 2023 625.40: above 16 A or 120 V);
    # 1.25 × 12 + 6 = 21 A on 20 A: too much, though 18 A do not trip it at once
    cord_set = visit(points=(level_1(),))
    changes: dict[str, dict[str, Any]] = {
        "charger_configuration": {"configured_a": "12 A"},
        "breaker_rating": {"rated_a": "20 A", "poles": "1"},
    }
    shared = {"is_alone": False, "what": "freezer", "other_a": "6 A"}
    found = judge(circuit(cord_set, **changes, run_dedicated=shared), "run.dedicated")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.CAUTION)
    heavy = {**shared, "other_a": "9 A"}
    found = judge(circuit(cord_set, **changes, run_dedicated=heavy), "run.dedicated")
    assert found.severity is Severity.WARNING
    assert "draw 21 A on 20 A" in found.explanation
    light = {**shared, "other_a": "5 A"}  # 15 + 5 = 20 A
    found = judge(circuit(cord_set, **changes, run_dedicated=light), "run.dedicated")
    assert found.verdict is Verdict.WITHIN


def beside_level_1(rated: str, other: str) -> Judgement:
    entries = {
        "charger.configuration": {"configured_a": "12 A"},
        "breaker.rating": {"rated_a": rated, "poles": "1"},
        "run.dedicated": {"is_alone": False, "other_a": other},
    }
    return judge(with_entries(visit(points=(level_1(),)), entries), "run.dedicated")


def test_level_1_names_the_loads_that_trip_its_breaker_and_how_soon():
    # facts of the trade: a 1500 W heater or kettle (12.5 A at 120 V) beside 12 A trips 15 A; on
    # 20 A it is 122 %, which a breaker may hold for hours (UL 489: 135 % within the hour)
    small, large = beside_level_1("15 A", "1 A"), beside_level_1("20 A", "1 A")
    assert any("kettle" in line and "trips after" in line for line in small.working)
    assert not any("kettle" in line for line in large.working)
    assert not any("lighting" in line or "freezer" in line for line in small.working)
    assert "trips soonest on: hair dryer" in small.explanation
    # UL 489: 100 % is carried, 200 % trips a breaker up to 30 A within two minutes
    full = beside_level_1("15 A", "3 A")
    assert "no breaker of this rating is expected to trip" in full.explanation
    double = beside_level_1("15 A", "18 A")
    assert re.search(
        r"an early one after \d+ s, a late one after (\d+ s|[12] min)", double.explanation
    )


def test_level_2_is_never_shared():
    # NEC 2023 625.40
    shared = {"is_alone": False, "other_a": "1 A"}
    found = judge(circuit(run_dedicated=shared), "run.dedicated")
    assert (found.verdict, found.severity) == (Verdict.OUTSIDE, Severity.WARNING)
    unknown = circuit(run_dedicated=shared, charger_configuration=None)
    assert judge(unknown, "run.dedicated").verdict is Verdict.OUTSIDE
