"""The volts of the outlet without load, each pair of contacts."""

from typing import Any, ClassVar

import pytest

from checks.record import Role, SupplySystem
from checks.verdict import Severity, Verdict
from tests.builders import (
    hard_wired,
    level_1,
    point,
)
from tests.unit.stations.outlet_entries import (
    found,
)


class TestNoLoad:
    GOOD: ClassVar[dict[str, Any]] = {
        "conductors": "two_lines_neutral",
        "line_line": "240.6 V",
        "l1_ground": "120.4 V",
        "l2_ground": "120.3 V",
        "l1_neutral": "120.4 V",
        "l2_neutral": "120.2 V",
        "neutral_ground": "0.1 V",
    }
    PLAIN: ClassVar[dict[str, Any]] = {
        "conductors": "line_neutral",
        "line_neutral": "120.2 V",
        "line_ground": "120.3 V",
        "neutral_ground": "0.2 V",
    }

    def judged(self, **answers: Any) -> Any:
        return found("outlet.no_load_voltage", {"outlet.no_load_voltage": {**self.GOOD, **answers}})

    def plain(self, **answers: Any) -> Any:
        entries = {"outlet.no_load_voltage": {**self.PLAIN, **answers}}
        return found("outlet.no_load_voltage", entries, points=(level_1(),))

    def test_the_band_is_in_view(self):
        judged = found("outlet.no_load_voltage", {})
        # ANSI C84.1 range A, service, 120/240 V: 228 V to 252 V
        assert [x.value for x in judged.limits[:2]] == [228.0, 252.0]
        wye = found(
            "outlet.no_load_voltage",
            {},
            system=SupplySystem.WYE_208,
            points=(point(nominal_v=208),),
        )
        # the same, 208Y/120 V: 197 V to 218 V
        assert [x.value for x in wye.limits[:2]] == [197.0, 218.0]

    def test_good_volts_are_within(self):
        assert self.judged().verdict is Verdict.WITHIN
        assert self.plain().verdict is Verdict.WITHIN

    @pytest.mark.parametrize(
        ("volts", "leg", "verdict", "severity"),
        [
            ("230.0 V", "115.0 V", Verdict.BORDERLINE, Severity.NOTICE),
            ("223.0 V", "111.5 V", Verdict.OUTSIDE, Severity.NOTICE),  # under range A service
            ("205.0 V", "102.5 V", Verdict.OUTSIDE, Severity.WARNING),  # under range B, 212 V
            ("262.0 V", "131.0 V", Verdict.OUTSIDE, Severity.WARNING),  # over range B, 254 V
        ],
    )
    def test_a_supply_beyond_its_band_is_found(
        self, volts: str, leg: str, verdict: Verdict, severity: Severity
    ):
        legs = dict.fromkeys(("l1_ground", "l2_ground", "l1_neutral", "l2_neutral"), leg)
        judged = self.judged(line_line=volts, **legs)
        assert (judged.verdict, judged.severity) == (verdict, severity)

    def test_swapped_line_and_neutral_is_danger(self):
        # line to ground near 0 V, neutral to ground at line voltage: common practice, no source
        judged = self.plain(line_ground="0.3 V", neutral_ground="120.1 V")
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "swapped" in judged.explanation

    @pytest.mark.parametrize(
        "answers",
        [
            # common practice: a conductor that is lost or swapped puts a hand at line voltage
            {"neutral_ground": "119.6 V"},
            {"l1_ground": "0.4 V"},
            {"l1_neutral": "201.0 V"},
        ],
    )
    def test_a_lost_or_swapped_conductor_forbids_to_plug_in(self, answers: dict[str, str]):
        judged = self.judged(**answers)
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "do not plug in" in judged.remedy

    def test_an_open_ground_is_danger(self):
        judged = self.judged(l1_ground="42.0 V", l2_ground="61.0 V", neutral_ground="40.0 V")
        assert judged.severity is Severity.DANGER

    def test_a_wandering_neutral_is_found(self):
        # 128 V and 112 V sum to 240 V: a loose neutral, common practice, no source
        judged = self.judged(l1_neutral="132.0 V", l2_neutral="108.5 V")
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)

    def test_every_pair_is_read(self):
        half = {"conductors": "two_lines", "line_line": "240.0 V", "l1_ground": "120.0 V"}
        judged = found("outlet.no_load_voltage", {"outlet.no_load_voltage": half})
        assert judged.verdict is Verdict.NOT_MEASURED

    def test_120_volt_wiring_does_not_serve_level_2(self):
        judged = found("outlet.no_load_voltage", {"outlet.no_load_voltage": self.PLAIN})
        assert judged.verdict is Verdict.OUTSIDE

    def test_who_inspects_cannot_reach_hard_wired_terminals(self):
        judged = found("outlet.no_load_voltage", {}, role=Role.INSPECTS, points=(hard_wired(),))
        assert judged.verdict is Verdict.NOT_APPLICABLE
        assert found("outlet.no_load_voltage", {}, role=Role.INSPECTS).verdict is (
            Verdict.NOT_MEASURED
        )

    @pytest.mark.parametrize(
        ("legs", "verdict"),
        [
            # course page on NEC 240.85: a breaker marked 120/240 V is not for the high leg of a
            # delta, 208 V to ground; circuit theory: between the two others no leg is high
            (("120.3 V", "208.2 V"), Verdict.BORDERLINE),
            (("120.3 V", "120.2 V"), Verdict.WITHIN),
        ],
    )
    def test_a_circuit_on_the_high_leg_asks_for_the_breakers_volts(
        self, legs: tuple[str, str], verdict: Verdict
    ):
        low, other = legs
        answers = {"conductors": "two_lines", "line_line": "240.5 V", "l1_ground": low}
        entries = {"outlet.no_load_voltage": {**answers, "l2_ground": other}}
        judged = found(
            "outlet.no_load_voltage",
            entries,
            system=SupplySystem.HIGH_LEG_DELTA,
            points=(hard_wired(),),
        )
        assert judged.verdict is verdict
        assert ("240 V without a slash" in judged.settles) is (verdict is Verdict.BORDERLINE)

    @pytest.mark.parametrize(
        ("kind", "conductors", "verdict"),
        [
            # trade forum on a 14-50 without a neutral: accepted by some authorities, and a matching
            # plug may want it; a 6-50 has no such contact (NEMA WD 6)
            ("14-50", "two_lines", Verdict.BORDERLINE),
            ("14-50", "two_lines_neutral", Verdict.WITHIN),
            ("6-50", "two_lines", Verdict.WITHIN),
        ],
    )
    def test_a_neutral_contact_without_a_neutral_is_left_to_the_authority(
        self, kind: str, conductors: str, verdict: Verdict
    ):
        keep = ("line_line", "l1_ground", "l2_ground")
        read = self.GOOD if conductors == "two_lines_neutral" else {k: self.GOOD[k] for k in keep}
        entries = {
            "outlet.configuration": {"kind": kind, "count": "single"},
            "outlet.no_load_voltage": {**read, "conductors": conductors},
        }
        judged = found("outlet.no_load_voltage", entries)
        assert judged.verdict is verdict
        assert ("neutral" in judged.remedy) is (verdict is Verdict.BORDERLINE)
