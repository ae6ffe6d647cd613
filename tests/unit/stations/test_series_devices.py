"""Ground-fault devices in series: what each may and must do beside the charger's own."""

from typing import Any

import pytest

from checks.verdict import Judgement, Verdict
from tests.builders import judge, visit, with_entries


def series(second: str, device: str = "breaker", device_class: str = "class_a") -> Judgement:
    present: dict[str, Any] = {"device": device}
    if device != "none":
        present |= {"device_class": device_class, "is_accessible": True}
    entries = {
        "outlet.ground_fault": present,
        "outlet.series_devices": {"second": second, "instructions": "allow"},
    }
    return judge(with_entries(visit(), entries), "outlet.series_devices")


@pytest.mark.parametrize(
    ("second", "device", "verdict"),
    [
        ("none", "none", Verdict.WITHIN),
        ("none", "breaker", Verdict.WITHIN),
        ("present", "none", Verdict.WITHIN),
        ("present", "breaker", Verdict.OUTSIDE),  # common practice, no source
    ],
)
def test_more_than_one_upstream_is_one_too_many(second: str, device: str, verdict: Verdict):
    assert series(second, device).verdict is verdict


def test_which_of_two_opens_is_told_from_their_thresholds():
    # UL 943 Class A must open at 6 mA, UL 2231 CCID20 at 20 mA only: upstream opens first
    lines = series("none").working
    assert "Class A, 5 mA upstream sees 6 mA: must open" in lines
    assert "CCID20 downstream sees 20 mA: must open" in lines
    assert any("although CCID20 need not" in line for line in lines)
    assert series("none", device_class="equipment").working == ()
