"""What a station says by the Canadian code, where it differs from the other."""

from collections.abc import Mapping
from typing import Any, Final

import pytest

from checks.record import ChargingPoint
from checks.verdict import Verdict
from tests.builders import judge, level_1, point, visit, with_entries

Entries = dict[str, Mapping[str, Any]]


def found(check: str, entries: Entries, here: ChargingPoint, code: str = "cec_2021"):
    return judge(with_entries(visit(points=(here,)), entries), check, code=code)


def circuit(rated: str, poles: str = "1") -> Entries:
    return {"breaker.rating": {"rated_a": rated, "poles": poles}}


@pytest.mark.parametrize(
    ("rated", "count", "cec", "nec"),
    [
        # CE Code 2021 86-306 1): at 125 V a single 5-20 on 20 A; NEC 2023 625.44, 210.21(B)(3)
        ("20 A", "single", Verdict.WITHIN, Verdict.WITHIN),
        ("20 A", "duplex", Verdict.OUTSIDE, Verdict.WITHIN),
        ("15 A", "single", Verdict.OUTSIDE, Verdict.WITHIN),
    ],
)
def test_a_5_20_by_its_circuit_and_count(rated: str, count: str, cec: Verdict, nec: Verdict):
    entries = {**circuit(rated), "outlet.configuration": {"kind": "5-20", "count": count}}
    for code, verdict in (("cec_2021", cec), ("nec_2023", nec)):
        assert found("outlet.configuration", entries, level_1(), code).verdict is verdict, code


OUTDOORS: Final[Entries] = {
    "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"},
    "outlet.ground_fault": {"device": "none"},
}


@pytest.mark.parametrize(
    ("here", "rated", "kind", "verdict"),
    [
        # CE Code 2021 86-306 2): a 5-20 for charging outdoors has Class A protection
        (level_1(), "20 A", "5-20", Verdict.OUTSIDE),
        # no rule of that section on 250 V configurations
        (point(), "50 A", "14-50", Verdict.WITHIN),
        (point(), "50 A", None, Verdict.NOT_MEASURED),
    ],
)
def test_which_receptacle_decides_on_ground_fault_protection(
    here: ChargingPoint, rated: str, kind: str | None, verdict: Verdict
):
    entries = {**OUTDOORS, **circuit(rated)}
    if kind is not None:
        entries["outlet.configuration"] = {"kind": kind, "count": "single"}
    judged = found("outlet.ground_fault", entries, here)
    assert judged.verdict is verdict, judged.explanation
    if verdict is Verdict.NOT_MEASURED:
        assert "receptacle's configuration" in judged.explanation
