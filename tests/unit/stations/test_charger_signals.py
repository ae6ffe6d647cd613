"""The charger: what it offers, its pilot, its contactor, its monitors, damage."""

import pytest

from checks.check import Situation
from checks.codes import profile
from checks.stations.charger.signals import offered_a
from checks.verdict import Severity, Verdict
from tests.builders import POINT, visit, with_entries
from tests.unit.stations.charger_entries import Entries, breaker, found, set_to


class TestSignals:
    CHECK = "charger.offered_current"
    HERE: Entries = {**breaker("40 A"), **set_to("32 A")}  # noqa: RUF012

    @pytest.mark.parametrize(
        ("duty", "verdict", "severity"),
        [
            # 0.6 A per cent of duty: SAE J1772 OCT2017, IEC 61851-1 table A.7
            ("53.3 %", Verdict.WITHIN, None),  # 32.0 A
            ("40.0 %", Verdict.OUTSIDE, Severity.NOTICE),  # 24.0 A, set to 32 A: slow, no more
            ("66.7 %", Verdict.OUTSIDE, Severity.WARNING),  # 40.0 A, circuit 32 A
            ("5.0 %", Verdict.BORDERLINE, Severity.CAUTION),  # digital dialogue
        ],
    )
    def test_the_duty_cycle_offers_what_was_set(
        self, duty: str, verdict: Verdict, severity: Severity | None
    ):
        entries = {**self.HERE, self.CHECK: {"method": "duty", "duty": duty}}
        judged = found(self.CHECK, entries)
        assert (judged.verdict, judged.severity) == (verdict, severity)

    @pytest.mark.parametrize(
        ("amps", "severity", "words"),
        [
            ("22.0 A", Severity.NOTICE, "holds it back"),  # 2 A too low overloads nothing
            ("27.0 A", Severity.CAUTION, "until then"),  # above its setting, the circuit bears it
            ("36.0 A", Severity.WARNING, "Stop charging"),  # 40 A / 1.25 = 32 A: NEC 2023 625.41
        ],
    )
    def test_a_wrong_offer_is_as_bad_as_what_it_does(
        self, amps: str, severity: Severity, words: str
    ):
        reading = {self.CHECK: {"method": "amps", "amps": amps}}
        judged = found(self.CHECK, {**breaker("40 A"), **set_to("24 A"), **reading})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)
        assert words in judged.remedy
        assert ("Stop" in judged.remedy) is (severity is Severity.WARNING)

    def test_a_duty_that_two_editions_read_differently_proves_nothing(self):
        # 8 % to 10 %: 6 A in the one, no charge below 10 % in the other; SAE J1772, IEC 61851-1
        reading = {self.CHECK: {"method": "duty", "duty": "9.0 %"}}
        judged = found(self.CHECK, {**breaker("15 A"), **set_to("6 A"), **reading})
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
        assert judged.telling == "6.0 A"

    def test_the_high_range_has_its_own_slope(self):
        # 2.5 × (90 - 64) = 65 A: SAE J1772 OCT2017
        made = with_entries(visit(), {self.CHECK: {"method": "duty", "duty": "90.0 %"}})
        amps = offered_a(Situation(made, profile("nec_2023"), POINT))
        assert amps is not None
        assert amps.nominal_value == pytest.approx(65.0)

    def test_amps_of_a_tester_are_judged_alike(self):
        entries = {**self.HERE, self.CHECK: {"method": "amps", "amps": "32.1 A"}}
        judged = found(self.CHECK, entries)
        assert judged.verdict is Verdict.WITHIN
        entries = {**self.HERE, self.CHECK: {"method": "amps", "amps": "40.0 A"}}
        assert found(self.CHECK, entries).verdict is Verdict.OUTSIDE

    def test_an_impossible_duty_is_no_crash(self):
        entries = {**self.HERE, self.CHECK: {"method": "duty", "duty": "130 %"}}
        assert found(self.CHECK, entries).verdict is Verdict.NOT_MEASURED

    def test_limits_are_in_view(self):
        judged = found(self.CHECK, self.HERE)
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [x.value for x in judged.limits] == [33.6, 30.4, 33.6]  # 32 A ± 5 %, own judgement

    PILOT: Entries = {  # noqa: RUF012
        "charger.pilot_voltage": {
            "state_a": "12.00 V",
            "state_b": "8.95 V",
            "state_c": "5.98 V",
            "negative": "-12.00 V",
        }
    }

    def test_the_pilot_is_judged_state_by_state(self):
        assert found("charger.pilot_voltage", self.PILOT).verdict is Verdict.WITHIN
        wrong = {**self.PILOT["charger.pilot_voltage"], "state_b": "7.50 V"}
        judged = found("charger.pilot_voltage", {"charger.pilot_voltage": wrong})
        # 8.36 V to 9.56 V: SAE J1772 state windows
        assert judged.verdict is Verdict.OUTSIDE
        assert "vehicle connected" in judged.explanation

    def test_a_missing_diode_shows_at_the_negative_peak(self):
        wrong = {**self.PILOT["charger.pilot_voltage"], "negative": "-9.00 V"}
        judged = found("charger.pilot_voltage", {"charger.pilot_voltage": wrong})
        assert judged.verdict is Verdict.OUTSIDE
        assert "diode in the vehicle or simulator shorted" in judged.explanation

    @pytest.mark.parametrize(
        ("over", "points_to", "line"),
        [
            # 11.3 V × (882 + 500)/(1000 + 882 + 500) + 0.7 V = 7.26 V, and 0.7 V for the diode
            # again in state B: 11.3 V × (2740 + 500)/(4240) + 0.7 V = 9.33 V; SAE J1772 components
            (
                {"state_b": "9.33 V", "state_c": "7.26 V"},
                "resistance in the pilot or ground contact",
                "state C: resistance in the pilot or ground contact, about 50",
            ),
            # 12 V × 5000/6000 = 10 V: a leak of 5 kΩ beside the blocked diode
            (
                {"state_b": "8.20 V", "negative": "-10.00 V"},
                "leak from pilot to ground",
                "about 5000 Ω",
            ),
            ({"state_b": "12.00 V"}, "pilot or ground contact open", "state B"),
            (
                {"state_b": "0.10 V", "state_c": "0.10 V", "negative": "-0.10 V"},
                "charger without power",
                "state B",
            ),
        ],
    )
    def test_wrong_peaks_point_to_a_fault(self, over: Entries, points_to: str, line: str):
        wrong = {**self.PILOT["charger.pilot_voltage"], **over}
        judged = found("charger.pilot_voltage", {"charger.pilot_voltage": wrong})
        assert judged.verdict is Verdict.OUTSIDE
        assert points_to in judged.explanation
        assert any(line in each for each in judged.working), judged.working
        assert "circuit dead" in judged.remedy


class TestSafety:
    @pytest.mark.parametrize(
        ("meter", "volts", "verdict"),
        [
            ("low", "0.4 V", Verdict.WITHIN),
            ("low", "118.0 V", Verdict.OUTSIDE),  # one pole welded
            ("high", "59.0 V", Verdict.BORDERLINE),  # half of the line: induced
            ("high", "119.0 V", Verdict.OUTSIDE),
        ],
    )
    def test_a_welded_contactor_is_danger(self, meter: str, volts: str, verdict: Verdict):
        judged = found(
            "charger.contactor_open",
            {"charger.contactor_open": {"meter": meter, "highest": volts}},
        )
        assert judged.verdict is verdict
        if verdict is Verdict.OUTSIDE:
            assert judged.severity is Severity.DANGER
            assert "Leave the connector" in judged.remedy

    def test_the_limit_is_in_view(self):
        judged = found("charger.contactor_open", {})
        assert (judged.verdict, [x.value for x in judged.limits]) == (Verdict.NOT_MEASURED, [10.0])

    @pytest.mark.parametrize(
        ("reaction", "verdict"),
        [
            ("refuses", Verdict.WITHIN),
            ("charges", Verdict.OUTSIDE),
            ("none_fitted", Verdict.BORDERLINE),
        ],
    )
    def test_it_refuses_without_ground(self, reaction: str, verdict: Verdict):
        entries = {"charger.ground_monitor": {"reaction": reaction}}
        assert found("charger.ground_monitor", entries).verdict is verdict

    @pytest.mark.parametrize("sign", ["is_case_broken", "is_cable_cut", "has_heat_marks"])
    def test_damage_is_danger(self, sign: str):
        answers = dict.fromkeys(
            ("is_case_broken", "is_cable_cut", "has_heat_marks", "has_water"), False
        )
        assert found("charger.damage", {"charger.damage": answers}).verdict is Verdict.WITHIN
        judged = found("charger.damage", {"charger.damage": {**answers, sign: True}})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
