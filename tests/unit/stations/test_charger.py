"""The charger: plate, setting, signals, contactor, cords, mounting, ventilation, disconnect."""

from typing import Any

import pytest

from checks.check import Situation
from checks.codes import profile
from checks.record import SupplySystem
from checks.stations.charger.signals import offered_a
from checks.verdict import Severity, Verdict
from tests.builders import POINT, hard_wired, judge, level_1, point, visit, with_entries

Entries = dict[str, dict[str, Any]]
PLATE: Entries = {
    "charger.nameplate": {
        "rated_a": "48 A",
        "volts": "208-240",
        "is_listed": True,
        "enclosure": "type_3r",
    }
}
OUTDOORS: Entries = {
    "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"}
}
GARAGE: Entries = {"surroundings.place": {"location": "garage", "wetness": "dry", "hazard": "none"}}


def found(check: str, entries: Entries, **over: Any) -> Any:
    """Judge one check of a visit with these entries."""
    return judge(with_entries(visit(**over), entries), check)


def breaker(rated: str) -> Entries:
    return {"breaker.rating": {"rated_a": rated, "poles": "2"}}


def set_to(amps: str, access: str = "password", **more: Any) -> Entries:
    return {"charger.configuration": {"configured_a": amps, "access": access, **more}}


class TestNameplate:
    def test_listed_and_fit_for_rain_is_within(self):
        assert found("charger.nameplate", {**PLATE, **OUTDOORS}).verdict is Verdict.WITHIN

    def test_unlisted_is_outside(self):
        plate = {"charger.nameplate": {**PLATE["charger.nameplate"], "is_listed": False}}
        judged = found("charger.nameplate", {**plate, **OUTDOORS})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
        assert judged.sources[0].clause == "625.6"  # NEC 2023

    @pytest.mark.parametrize(
        ("enclosure", "wetness", "verdict"),
        [
            # NEMA 250: type 1 indoors, types 3R and 4 in rain; common practice, no source
            ("type_1", "dry", Verdict.WITHIN),
            ("type_1", "damp", Verdict.OUTSIDE),
            ("type_2", "damp", Verdict.WITHIN),
            ("type_2", "wet", Verdict.OUTSIDE),
            ("type_4", "wet", Verdict.WITHIN),
            ("unmarked", "wet", Verdict.BORDERLINE),
        ],
    )
    def test_the_enclosure_fits_the_place(self, enclosure: str, wetness: str, verdict: Verdict):
        plate = {**PLATE["charger.nameplate"], "enclosure": enclosure}
        place = {"location": "garage", "wetness": wetness, "hazard": "none"}
        entries = {"charger.nameplate": plate, "surroundings.place": place}
        assert found("charger.nameplate", entries).verdict is verdict

    @pytest.mark.parametrize(
        ("enclosure", "location", "verdict"),
        [
            # NEC 2023 table 110.28, from memory: types 1 and 2 for indoor use, 3R and 4 for outdoor
            ("type_1", "outdoors", Verdict.OUTSIDE),
            ("type_2", "outdoors", Verdict.OUTSIDE),
            ("type_1", "rooftop", Verdict.OUTSIDE),
            ("type_3r", "outdoors", Verdict.WITHIN),
            ("type_1", "dry indoors", Verdict.WITHIN),
            ("type_1", None, Verdict.NOT_MEASURED),
            ("type_3r", None, Verdict.WITHIN),
        ],
    )
    def test_an_enclosure_for_indoors_is_kept_indoors(
        self, enclosure: str, location: str | None, verdict: Verdict
    ):
        plate = {**PLATE["charger.nameplate"], "enclosure": enclosure}
        place = {"wetness": "dry"} | ({} if location is None else {"location": location})
        entries = {"charger.nameplate": plate, "surroundings.place": place}
        assert found("charger.nameplate", entries).verdict is verdict

    @pytest.mark.parametrize(
        ("volts", "verdict"), [("240", Verdict.WITHIN), ("120", Verdict.OUTSIDE)]
    )
    def test_the_plate_fits_the_supply(self, volts: str, verdict: Verdict):
        # listed use: NEC 2023 110.3(B)
        plate = {"charger.nameplate": {**PLATE["charger.nameplate"], "volts": volts}}
        assert found("charger.nameplate", {**plate, **OUTDOORS}).verdict is verdict

    def test_without_the_place_it_is_not_judged(self):
        assert found("charger.nameplate", PLATE).verdict is Verdict.NOT_MEASURED


class TestConfiguration:
    CHECK = "charger.configuration"

    def test_limits_by_breaker_receptacle_and_plate_are_in_view(self):
        outlet = {"outlet.configuration": {"kind": "14-30", "count": "single"}}
        judged = found(self.CHECK, {**PLATE, **breaker("40 A"), **outlet})
        assert judged.verdict is Verdict.NOT_MEASURED
        # 40/1.25 = 32 (NEC 2023 625.41); 30 × 0.8 = 24 (210.23); plate 48
        assert [x.value for x in judged.limits] == [32.0, 24.0, 48.0]

    @pytest.mark.parametrize(
        ("rated", "setting", "verdict", "severity"),
        [
            ("60 A", "48 A", Verdict.WITHIN, None),  # 60/1.25 = 48: NEC 2023 625.41
            ("50 A", "48 A", Verdict.OUTSIDE, Severity.WARNING),  # 40 A
            ("40 A", "48 A", Verdict.OUTSIDE, Severity.DANGER),  # over the breaker itself
        ],
    )
    def test_the_setting_fits_the_breaker(
        self, rated: str, setting: str, verdict: Verdict, severity: Severity | None
    ):
        entries = {**PLATE, **breaker(rated), **set_to(setting, "fixed")}
        judged = found(self.CHECK, entries, points=(hard_wired(),))
        assert (judged.verdict, judged.severity) == (verdict, severity)
        assert judged.telling == "48 A"

    @pytest.mark.parametrize(
        ("kind", "verdict"),
        [
            ("14-50", Verdict.WITHIN),  # 40 A breaker: 32 A
            ("14-30", Verdict.OUTSIDE),  # 30 × 0.8 = 24 A
        ],
    )
    def test_the_receptacle_limits_the_setting(self, kind: str, verdict: Verdict):
        entries = {
            **PLATE,
            **breaker("40 A"),
            "outlet.configuration": {"kind": kind, "count": "single"},
            **set_to("32 A", is_label_adjusted=True),
        }
        assert found(self.CHECK, entries).verdict is verdict

    @pytest.mark.parametrize(
        ("access", "label", "verdict"),
        [
            ("password", True, Verdict.WITHIN),  # NEC 2023 625.42(B), 750.30(C)
            ("password", False, Verdict.OUTSIDE),
            ("open", True, Verdict.OUTSIDE),
        ],
    )
    def test_below_its_plate_it_is_kept_there(self, access: str, label: bool, verdict: Verdict):
        entries = {
            **PLATE,
            **breaker("40 A"),
            **set_to("32 A", access, is_label_adjusted=label),
        }
        assert found(self.CHECK, entries, points=(hard_wired(),)).verdict is verdict

    def test_label_is_asked_for_only_below_the_plate(self):
        entries = {**PLATE, **breaker("40 A"), **set_to("32 A")}
        judged = found(self.CHECK, entries, points=(hard_wired(),))
        assert judged.verdict is Verdict.NOT_MEASURED

    def test_what_is_missing_is_named(self):
        judged = found(self.CHECK, set_to("32 A"))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert "breaker" in judged.explanation


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


class TestCords:
    @pytest.mark.parametrize(
        ("length", "managed", "verdict"),
        [
            ("7.5 m", False, Verdict.WITHIN),  # NEC 2023 625.17(C): 7.5 m (25 ft)
            ("25 ft", False, Verdict.WITHIN),
            ("8.0 m", False, Verdict.OUTSIDE),
            ("8.0 m", True, Verdict.WITHIN),
        ],
    )
    def test_output_cable(self, length: str, managed: bool, verdict: Verdict):
        entries = {"charger.cable": {"length": length, "is_managed": managed}}
        assert found("charger.cable", entries).verdict is verdict

    @pytest.mark.parametrize(
        ("is_portable", "length", "protection", "verdict"),
        [
            # NEC 2023 625.17(A): 12 in portable, 6 ft fastened, 15 ft protected in the plug
            (True, "12 in", "case", Verdict.WITHIN),
            (True, "1.0 m", "case", Verdict.OUTSIDE),
            (True, "4.5 m", "plug", Verdict.WITHIN),
            (False, "6 ft", "case", Verdict.WITHIN),
            (False, "7 ft", "case", Verdict.OUTSIDE),
        ],
    )
    def test_supply_cord(self, is_portable: bool, length: str, protection: str, verdict: Verdict):
        points = (level_1() if is_portable else point(),)
        entries = {"charger.supply_cord": {"length": length, "protection": protection}}
        assert found("charger.supply_cord", entries, points=points).verdict is verdict

    def test_a_hard_wired_charger_has_no_supply_cord(self):
        judged = found("charger.supply_cord", {}, points=(hard_wired(),))
        assert judged.verdict is Verdict.NOT_APPLICABLE


class TestPlace:
    @pytest.mark.parametrize(
        ("place", "height", "verdict"),
        [
            # NEC 2023 625.50: 450 mm indoors, 600 mm outdoors
            (GARAGE, "0.55 m", Verdict.WITHIN),
            (OUTDOORS, "0.55 m", Verdict.OUTSIDE),
            (OUTDOORS, "1.10 m", Verdict.WITHIN),
            (OUTDOORS, "0.61 m", Verdict.BORDERLINE),  # a tape is good to 2 % + 1 cm
        ],
    )
    def test_storage_height(self, place: Entries, height: str, verdict: Verdict):
        entries = {**place, "charger.mounting": {"is_fixed": True, "height": height}}
        assert found("charger.mounting", entries).verdict is verdict

    def test_a_cord_set_is_not_mounted(self):
        judged = found("charger.mounting", {}, points=(level_1(),))
        assert judged.verdict is Verdict.NOT_APPLICABLE

    @pytest.mark.parametrize(
        ("answers", "verdict"),
        [
            ({"marking": "not_required"}, Verdict.WITHIN),  # NEC 2023 625.52(A)
            ({"marking": "required", "is_interlocked": False}, Verdict.OUTSIDE),
            ({"marking": "required", "is_interlocked": True}, Verdict.WITHIN),
            # nobody knows, and the instructions are not there: no dead end, and not good
            ({"marking": "not_seen"}, Verdict.BORDERLINE),
            ({"marking": "required"}, Verdict.NOT_MEASURED),
        ],
    )
    def test_ventilation_indoors(self, answers: dict[str, Any], verdict: Verdict):
        entries = {**GARAGE, "charger.ventilation": answers}
        assert found("charger.ventilation", entries).verdict is verdict

    def test_missing_ventilation_is_told_with_its_rate(self):
        # NEC 2023 table 625.52(B): 50 A at 240 V, 7.0 m³/min (246 ft³/min)
        entries = {
            **GARAGE,
            "breaker.rating": {"rated_a": "50 A", "poles": "2"},
            "charger.ventilation": {"marking": "required", "is_interlocked": False},
        }
        judged = found("charger.ventilation", entries)
        assert judged.verdict is Verdict.OUTSIDE
        assert "7.0 m³/min" in judged.remedy
        assert "Garage" in judged.explanation

    def test_ventilation_waits_for_the_place(self):
        entries = {"charger.ventilation": {"marking": "not_required"}}
        assert found("charger.ventilation", entries).verdict is Verdict.NOT_MEASURED

    def test_outdoors_needs_no_ventilation(self):
        assert found("charger.ventilation", OUTDOORS).verdict is Verdict.NOT_APPLICABLE

    @pytest.mark.parametrize(
        ("rated", "present", "verdict"),
        [
            # NEC 2023 625.43: above 60 A; 60 A at 240 V split phase needs none
            ("60 A", False, Verdict.WITHIN),
            ("80 A", False, Verdict.OUTSIDE),
            ("80 A", True, Verdict.WITHIN),
        ],
    )
    def test_disconnect(self, rated: str, present: bool, verdict: Verdict):
        answers: dict[str, Any] = {"is_present": present}
        if present:
            answers |= {"is_lockable": True, "is_accessible": True}
        entries = {
            "charger.nameplate": {"rated_a": rated},
            "charger.disconnect": answers,
        }
        assert found("charger.disconnect", entries, points=(hard_wired(),)).verdict is verdict

    @pytest.mark.parametrize(
        ("access", "is_shown", "verdict"),
        [
            # NEC 2023 625.42(B): behind a tool and shown on the label, 48 A is the rating
            ("tool", True, Verdict.WITHIN),
            ("tool", False, Verdict.OUTSIDE),
            ("open", True, Verdict.OUTSIDE),
        ],
    )
    def test_an_adjusted_rating_counts_where_it_is_kept(
        self, access: str, is_shown: bool, verdict: Verdict
    ):
        adjusted = {"configured_a": "48 A", "access": access, "is_label_adjusted": is_shown}
        entries = {
            "charger.nameplate": {"rated_a": "80 A"},
            "charger.configuration": adjusted,
            "charger.disconnect": {"is_present": False},
        }
        assert found("charger.disconnect", entries, points=(hard_wired(),)).verdict is verdict

    def test_a_disconnect_that_nobody_asked_for_is_only_a_notice(self):
        answers = {"is_present": True, "is_lockable": False, "is_accessible": True}
        entries = {"charger.nameplate": {"rated_a": "48 A"}, "charger.disconnect": answers}
        judged = found("charger.disconnect", entries, points=(hard_wired(),))
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.NOTICE)

    def test_a_plug_is_its_own_disconnect(self):
        assert found("charger.disconnect", {}).verdict is Verdict.NOT_APPLICABLE


def test_208_volts_change_no_current_limit():
    entries = {**PLATE, **breaker("60 A"), **set_to("48 A", "fixed")}
    wye = found(
        "charger.configuration",
        entries,
        system=SupplySystem.WYE_208,
        points=(hard_wired(nominal_v=208),),
    )
    assert wye.verdict is Verdict.WITHIN
