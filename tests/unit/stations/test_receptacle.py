"""The receptacle: its configuration against circuit and use, and its grade."""

import pytest

from checks.record import Attachment, ChargerForm
from checks.verdict import Severity, Verdict
from tests.builders import (
    hard_wired,
    level_1,
)
from tests.unit.stations.outlet_entries import (
    breaker,
    found,
    receptacle,
)


class TestConfiguration:
    @pytest.mark.parametrize(
        ("rated", "kind", "count", "verdict"),
        [
            ("50 A", "14-50", "single", Verdict.WITHIN),  # equal: NEC 2023 210.21(B)(1)
            ("40 A", "14-50", "single", Verdict.WITHIN),  # above the circuit is allowed, same
            ("40 A", "14-30", "single", Verdict.OUTSIDE),  # 30 < 40
            ("60 A", "14-50", "single", Verdict.OUTSIDE),  # 50 < 60
            ("30 A", "10-30", "single", Verdict.OUTSIDE),  # no ground: 625.44
            ("30 A", "L6-30", "single", Verdict.OUTSIDE),  # locking: 625.44
            ("40 A", "6-50", "several", Verdict.WITHIN),  # 40 A: 40 or 50, table 210.21(B)(3)
            ("30 A", "6-50", "several", Verdict.OUTSIDE),  # 30 A: 30 only, same table
        ],
    )
    def test_it_fits_its_circuit_or_not(self, rated: str, kind: str, count: str, verdict: Verdict):
        judged = found("outlet.configuration", {**breaker(rated), **receptacle(kind, count)})
        assert judged.verdict is verdict
        assert judged.telling == kind

    @pytest.mark.parametrize(
        ("set_to", "severity"),
        [
            ("24 A", Severity.CAUTION),  # 80 % of 30 A: the contacts carry it (NEC 210.23)
            ("28 A", Severity.WARNING),
            ("32 A", Severity.DANGER),  # more than the contacts are made for
        ],
    )
    def test_a_receptacle_below_its_breaker_is_as_bad_as_what_it_carries(
        self, set_to: str, severity: Severity
    ):
        setting = {"charger.configuration": {"configured_a": set_to}}
        judged = found(
            "outlet.configuration", {**breaker("50 A"), **receptacle("14-30"), **setting}
        )
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)
        assert "30 A, on a 50 A breaker" in judged.explanation

    def test_a_receptacle_for_120_v_on_240_v_is_danger(self):
        judged = found("outlet.configuration", {**breaker("15 A"), **receptacle("5-15")})
        assert judged.severity is Severity.DANGER

    def test_a_receptacle_without_ground_is_danger(self):
        judged = found("outlet.configuration", {**breaker("30 A"), **receptacle("10-30")})
        assert judged.severity is Severity.DANGER

    def test_a_120_volt_receptacle_that_looks_like_240_is_found(self):
        # TT-30 is 125 V: NEMA WD 6
        judged = found("outlet.configuration", {**breaker("30 A"), **receptacle("TT-30")})
        assert judged.verdict is Verdict.OUTSIDE
        assert "125 V" in judged.explanation

    def test_what_is_read_two_ways_is_left_to_the_authority(self):
        # 60 A receptacles: read in a code that adopts NEC 2023, not in the edition itself
        judged = found("outlet.configuration", {**breaker("60 A"), **receptacle("14-60")})
        assert judged.verdict is Verdict.BORDERLINE

    def test_the_limit_is_the_breaker_before_the_kind_is_known(self):
        judged = found("outlet.configuration", breaker("50 A"))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [(x.side.value, x.value) for x in judged.limits] == [("at least", 50.0)]

    def test_without_the_breaker_nothing_is_good(self):
        assert found("outlet.configuration", receptacle("14-50")).verdict is Verdict.NOT_MEASURED

    def test_hard_wired_has_none(self):
        judged = found("outlet.configuration", {}, points=(hard_wired(),))
        assert judged.verdict is Verdict.NOT_APPLICABLE
        assert "hard-wired" in judged.explanation


class TestGrade:
    @pytest.mark.parametrize(
        ("grade", "load", "verdict", "severity"),
        [
            ("industrial", "40 A", Verdict.WITHIN, None),
            ("residential", "40 A", Verdict.OUTSIDE, Severity.CAUTION),
            ("residential", "16 A", Verdict.WITHIN, None),  # own judgement: up to 16 A
            ("unknown", "40 A", Verdict.OUTSIDE, Severity.NOTICE),
        ],
    )
    def test_hours_of_current_ask_for_more_than_a_dryer_does(
        self, grade: str, load: str, verdict: Verdict, severity: Severity | None
    ):
        entries = {
            "charger.nameplate": {"rated_a": load},
            "outlet.grade": {"grade": grade},
        }
        judged = found("outlet.grade", entries)
        assert (judged.verdict, judged.severity) == (verdict, severity)


def test_a_cord_set_may_not_use_what_a_fixed_unit_may():
    # NEC 2023 625.44(A): TT-30 is not among the portable ones; (B) by its letter admits it
    entries = {**breaker("30 A"), **receptacle("TT-30")}
    portable = found("outlet.configuration", entries, points=(level_1(),))
    fixed = found(
        "outlet.configuration",
        entries,
        points=(level_1(charger_form=ChargerForm.FIXED, attachment=Attachment.RECEPTACLE),),
    )
    assert (portable.verdict, fixed.verdict) == (Verdict.OUTSIDE, Verdict.BORDERLINE)
