"""The outlet's temperature under load: what a warm surface shows, and what a cool one does not."""

from typing import Any, ClassVar

import pytest

from checks.verdict import Severity, Verdict
from tests.unit.stations.outlet_entries import (
    CHARGER,
    Entries,
    breaker,
    found,
    load_test,
    receptacle,
    warm,
)


class TestTemperature:
    CHECK = "outlet.temperature"
    JOINTS: ClassVar[Entries] = {
        **receptacle("14-50"),
        "outlet.retention": {"feel": "firm"},
        "outlet.terminal_torque": {
            "occasion": "tightening",
            "label": "8.0 N·m",
            "applied": "8.0 N·m",
            "are_all_done": True,
        },
    }

    def judged(self, entries: Entries, **answers: str) -> Any:
        return found(self.CHECK, {**CHARGER, **entries, **warm(**answers)})

    def test_a_cool_surface_alone_is_never_within(self):
        judged = self.judged({})
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
        assert "does not show" in judged.explanation

    def test_a_cool_surface_over_sound_joints_is_within(self):
        judged = self.judged(self.JOINTS)
        assert judged.verdict is Verdict.WITHIN
        assert judged.telling == "33 °C"

    @pytest.mark.parametrize(
        ("surface", "severity"),
        [
            ("48.0 °C", Severity.CAUTION),  # 26 K: over 20 K, own judgement
            ("58.0 °C", Severity.WARNING),  # 36 K: over 30 K, UL 498 from memory
            ("70.0 °C", Severity.DANGER),  # 48 K: over 40 K, NETA ATS 2003 table 100.18
            ("158.0 °F", Severity.DANGER),  # the same
        ],
    )
    def test_a_hot_surface_is_outside(self, surface: str, severity: Severity):
        judged = self.judged(self.JOINTS, surface=surface)
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)

    def test_a_rise_at_half_current_is_scaled_before_it_is_judged(self):
        # 10 K at 16 A is 30 K to 40 K at 32 A: 2^1.6 = 3.03, 2^2 = 4
        judged = self.judged(self.JOINTS, surface="32.0 °C", current="16.0 A")
        assert judged.verdict is Verdict.OUTSIDE
        assert judged.measured is not None
        half_k = float(judged.measured.expanded)
        assert float(judged.measured.value) - half_k < 30.3
        assert float(judged.measured.value) + half_k > 40.0

    def test_ambient_changes_the_verdict(self):
        assert self.judged(self.JOINTS, ambient="5.0 °C").verdict is Verdict.OUTSIDE

    def test_infrared_on_bare_metal_proves_nothing(self):
        assert self.judged(self.JOINTS, method="infrared_metal").verdict is Verdict.BORDERLINE

    def test_a_like_part_that_is_cooler_tells(self):
        # over 3 K under the same load: NETA ATS 2003 table 100.18
        judged = self.judged(self.JOINTS, like_part="25.0 °C")
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.CAUTION)

    @pytest.mark.parametrize("sign", ["smell", "discoloration", "accelerating"])
    def test_a_stop_sign_is_danger_before_any_number(self, sign: str):
        judged = found(self.CHECK, {"outlet.temperature": {"sign": sign}})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "safe point" in judged.remedy

    @pytest.mark.parametrize(
        "after",
        [
            {},
            # obeying it: the current is stopped, the part cools; common practice, no source
            {"surface": ["44.0 °C", "62.0 °C", "55.0 °C"], "current": ["32.0 A", "32.0 A", "0 A"]},
            {"surface": ["44.0 °C", "62.0 °C", "48.0 °C"]},
            {"surface": ["61.0 °C", "59.5 °C"]},
        ],
    )
    @pytest.mark.parametrize("sign", ["none", "smell"])
    def test_what_ended_a_test_stands_when_the_part_has_cooled(
        self, after: dict[str, list[str]], sign: str
    ):
        hot = {"surface": ["44.0 °C", "62.0 °C"], "ambient": ["22.0 °C"], "current": ["32.0 A"]}
        read = {"method": "contact", "sign": sign, **hot, **after}
        judged = found(self.CHECK, {**CHARGER, **self.JOINTS, self.CHECK: read})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)

    @pytest.mark.parametrize(
        "read",
        [
            # no part is cooler under current than after it has ended; common practice, no source
            {"surface": ["40.0 °C", "52.0 °C", "85.0 °C"], "current": ["32.0 A", "32.0 A", "0 A"]},
            {"surface": ["85.0 °C"], "current": ["0 A"]},
        ],
    )
    def test_what_is_too_hot_after_the_current_ended_was_so_under_it(
        self, read: dict[str, list[str]]
    ):
        told = {"method": "contact", "sign": "none", "ambient": ["22.0 °C"], **read}
        judged = found(self.CHECK, {**CHARGER, **self.JOINTS, self.CHECK: told})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "85 °C" in judged.explanation

    def test_one_reading_that_stands_out_is_a_slip_once_others_follow(self):
        surface = [f"{22 + k:.1f} °C" for k in (1, 2, 3, 50, 4.6, 5.2, 5.7, 6.1, 6.4, 6.7)]
        read = {"method": "contact", "sign": "none", "surface": surface}
        read |= {"ambient": ["22.0 °C"], "current": ["32.0 A"]}
        judged = found(self.CHECK, {**CHARGER, **self.JOINTS, self.CHECK: read})
        assert judged.severity is not Severity.DANGER

    def test_limits_are_in_view(self):
        judged = found(self.CHECK, {})
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [x.value for x in judged.limits] == [20.0, 3.0]  # NETA ATS 2003 table 100.18


def test_a_load_test_that_leaves_no_heat_backs_a_cool_surface():
    # 10 W at 16 A is 39 mΩ (Joule); (0.52 - 0.12) V / 16 A = 25 mΩ, of which copper has 22 mΩ
    entries = {
        **breaker("20 A"),
        "charger.configuration": {"configured_a": "16 A"},
        "run.conductor": {"size": "8 AWG", "material": "copper"},
        "run.length": {"basis": "measured", "length": "5.0 m"},
        **load_test(
            outlet_no_load="243.12 V",
            outlet_loaded="242.60 V",
            panel_no_load="243.12 V",
            panel_loaded="243.00 V",
            current="16.0 A",
        ),
        **warm(current="16.0 A"),
    }
    assert found("outlet.temperature", entries).verdict is Verdict.WITHIN
