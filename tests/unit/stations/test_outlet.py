"""The outlet: configuration, condition, ground fault, volts without and with load, temperature."""

from typing import Any, ClassVar

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.record import Attachment, ChargerForm, Occupancy, Role, Site, SupplySystem
from checks.verdict import Severity, Verdict
from tests.builders import (
    hard_wired,
    level_1,
    point,
    visit,
    with_entries,
)
from tests.unit.stations.outlet_entries import (
    CHARGER,
    RUN,
    Entries,
    breaker,
    found,
    load_test,
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


class TestCondition:
    SOUND: ClassVar[dict[str, Any]] = {
        "has_heat_marks": False,
        "is_cracked": False,
        "is_wet": False,
    }

    @pytest.mark.parametrize("sign", list(SOUND))
    def test_any_damage_is_danger_and_is_not_energised(self, sign: str):
        judged = found("outlet.damage", {"outlet.damage": {**self.SOUND, sign: True}})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        assert "off" in judged.remedy

    def test_a_sound_outlet_is_within_and_a_half_looked_at_one_is_not(self):
        assert found("outlet.damage", {"outlet.damage": self.SOUND}).verdict is Verdict.WITHIN
        half = {"has_heat_marks": False, "is_cracked": False}
        assert found("outlet.damage", {"outlet.damage": half}).verdict is Verdict.NOT_MEASURED

    @pytest.mark.parametrize(
        ("force", "verdict"),
        [
            ("20.0 N", Verdict.WITHIN),
            ("3.00 lbf", Verdict.BORDERLINE),  # 3 lbf = 13.34 N: UL 498, at the limit
            ("9.0 N", Verdict.OUTSIDE),
        ],
    )
    def test_a_15_ampere_receptacle_holds_a_blade_with_3_pounds(self, force: str, verdict: Verdict):
        entries = {
            **receptacle("5-15"),
            "outlet.retention": {"feel": "firm", "line_force": force},
        }
        assert found("outlet.retention", entries, points=(level_1(),)).verdict is verdict

    def test_feel_alone_is_not_enough_where_a_force_is_published(self):
        entries = {**receptacle("5-20"), "outlet.retention": {"feel": "firm"}}
        judged = found("outlet.retention", entries, points=(level_1(),))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [round(x.value, 2) for x in judged.limits] == [13.34, 1.11]  # UL 498, NFPA 99

    @pytest.mark.parametrize("kind", ["14-50", "6-50", "14-30"])
    def test_the_ground_contacts_limit_is_in_view_for_every_kind(self, kind: str):
        entries = {**receptacle(kind), "outlet.retention": {"feel": "firm"}}
        judged = found("outlet.retention", entries)
        assert [round(x.value, 2) for x in judged.limits] == [1.11]  # NFPA 99 2018, 4 oz
        entries = {
            **receptacle(kind),
            "outlet.retention": {"feel": "firm", "ground_force": "0.6 N"},
        }
        judged = found("outlet.retention", entries)
        assert judged.verdict is Verdict.OUTSIDE
        assert "0.60 ± 0.23 N" in judged.explanation  # value and its expanded uncertainty

    def test_feel_is_what_there_is_for_a_range_receptacle(self):
        firm = {**receptacle("14-50"), "outlet.retention": {"feel": "firm"}}
        assert found("outlet.retention", firm).verdict is Verdict.WITHIN
        loose = {**receptacle("14-50"), "outlet.retention": {"feel": "loose"}}
        assert found("outlet.retention", loose).severity is Severity.WARNING

    @pytest.mark.parametrize(
        ("wetness", "cover", "kind", "marked", "verdict"),
        [
            ("dry", "none", "14-50", None, Verdict.WITHIN),
            ("damp", "closed", "14-50", None, Verdict.WITHIN),  # NEC 2023 406.9(A)
            ("damp", "none", "14-50", None, Verdict.OUTSIDE),
            ("wet", "closed", "14-50", None, Verdict.OUTSIDE),  # plug in or out: 406.9(B)
            ("wet", "in_use", "14-50", None, Verdict.WITHIN),
            ("wet", "in_use", "5-20", None, Verdict.NOT_MEASURED),  # 15 and 20 A: WR type
            ("wet", "in_use", "5-20", False, Verdict.OUTSIDE),
            ("wet", "in_use", "5-20", True, Verdict.WITHIN),
        ],
    )
    def test_the_cover_fits_the_place(
        self, wetness: str, cover: str, kind: str, marked: bool | None, verdict: Verdict
    ):
        answers: dict[str, Any] = {"cover": cover}
        if marked is not None:
            answers["is_weather_resistant"] = marked
        entries = {
            "surroundings.place": {"location": "outdoors", "wetness": wetness},
            **receptacle(kind),
            "outlet.cover": answers,
        }
        assert found("outlet.cover", entries).verdict is verdict

    def test_an_extension_cord_is_danger(self):
        answers = {
            "is_fixed": True,
            "is_face_whole": True,
            "is_plug_free": True,
            "is_cord_extended": True,
        }
        judged = found("outlet.mounting", {"outlet.mounting": answers})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)


class TestTermination:
    SOUND: ClassVar[dict[str, Any]] = {
        "is_relieved": True,
        "are_strands_captured": True,
        "is_insulation_clear": True,
        "is_entry_sealed": True,
    }

    def test_only_where_the_charger_is_wired_in(self):
        assert found("outlet.termination", {}).verdict is Verdict.NOT_APPLICABLE
        copper = {"run.conductor": {"size": "6 AWG", "material": "copper"}}
        entries = {**copper, "outlet.termination": self.SOUND}
        judged = found("outlet.termination", entries, points=(hard_wired(),))
        assert judged.verdict is Verdict.WITHIN

    @pytest.mark.parametrize(
        ("marked", "verdict"),
        [
            (None, Verdict.NOT_MEASURED),
            (False, Verdict.NOT_MEASURED),  # no fault on copper
            (True, Verdict.WITHIN),  # holds either metal: NEC 2023 110.14(A)
        ],
    )
    def test_a_metal_that_is_not_recorded_asks_for_it_or_the_marking(
        self, marked: bool | None, verdict: Verdict
    ):
        more = {} if marked is None else {"is_marked_aluminum": marked}
        entries = {"outlet.termination": {**self.SOUND, **more}}
        judged = found("outlet.termination", entries, points=(hard_wired(),))
        assert judged.verdict is verdict
        if verdict is Verdict.NOT_MEASURED:
            assert "metal" in judged.explanation

    @pytest.mark.parametrize(
        ("marked", "verdict"),
        [
            (None, Verdict.NOT_MEASURED),
            (True, Verdict.WITHIN),
            (False, Verdict.OUTSIDE),  # NEC 2023 110.14(A)
        ],
    )
    def test_aluminum_asks_for_terminals_made_for_it(self, marked: bool | None, verdict: Verdict):
        answers = (
            dict(self.SOUND) if marked is None else {**self.SOUND, "is_marked_aluminum": marked}
        )
        entries = {
            "run.conductor": {"size": "6 AWG", "material": "aluminum"},
            "outlet.termination": answers,
        }
        assert found("outlet.termination", entries, points=(hard_wired(),)).verdict is verdict

    def test_a_torque_found_later_is_never_within(self):
        entries = {"outlet.terminal_torque": {"occasion": "found", "found": "not loose"}}
        assert found("outlet.terminal_torque", entries).verdict is Verdict.BORDERLINE


class TestGroundFault:
    HERE: ClassVar[dict[str, Any]] = {
        **breaker("50 A"),
        "surroundings.place": {"location": "garage", "wetness": "dry", "hazard": "none"},
    }
    NONE: ClassVar[dict[str, Any]] = {"outlet.ground_fault": {"device": "none"}}
    CLASS_A: ClassVar[dict[str, Any]] = {
        "outlet.ground_fault": {
            "device": "breaker",
            "device_class": "class_a",
            "is_accessible": True,
        }
    }

    def test_a_garage_receptacle_without_it_is_outside(self):
        # NEC 2023 625.54, 210.8(A): common practice calls this the first thing to look for
        judged = found("outlet.ground_fault", {**self.HERE, **self.NONE})
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
        assert judged.sources[0].clause == "625.54"

    def test_with_class_a_it_is_within(self):
        judged = found("outlet.ground_fault", {**self.HERE, **self.CLASS_A})
        assert judged.verdict is Verdict.WITHIN

    def test_a_30_milliampere_device_does_not_protect_people(self):
        device = {"device": "breaker", "device_class": "equipment", "is_accessible": True}
        judged = found("outlet.ground_fault", {**self.HERE, "outlet.ground_fault": device})
        assert judged.verdict is Verdict.OUTSIDE

    def test_hard_wired_outdoors_on_60_amperes_needs_none(self):
        # NEC 2023 625.54 is for receptacles; 210.8(F) ends at 50 A
        here = {
            **breaker("60 A"),
            "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"},
            **self.NONE,
        }
        assert found("outlet.ground_fault", here, points=(hard_wired(),)).verdict is Verdict.WITHIN

    def test_hard_wired_outdoors_on_50_amperes_is_left_to_the_authority(self):
        # NEC 2023 210.8(F), read two ways
        here = {
            **breaker("50 A"),
            "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"},
            **self.NONE,
        }
        judged = found("outlet.ground_fault", here, points=(hard_wired(),))
        assert judged.verdict is Verdict.BORDERLINE
        assert "authority having jurisdiction" in judged.settles
        other = found(
            "outlet.ground_fault",
            here,
            points=(hard_wired(),),
            site=Site(name="Invented site", occupancy=Occupancy.OTHER),
        )
        assert other.verdict is Verdict.WITHIN  # 210.8(F) is for dwellings

    def test_without_place_a_hard_wired_outlet_is_not_judged(self):
        judged = found("outlet.ground_fault", self.NONE, points=(hard_wired(),))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert "surroundings" in judged.explanation

    def trip(self, **answers: Any) -> Any:
        made = {"is_tripped_by_button": True, "is_restored": True, "method": "button", **answers}
        return found("outlet.ground_fault_trip", {**self.CLASS_A, "outlet.ground_fault_trip": made})

    def test_limits_of_the_trip_are_in_view(self):
        judged = found("outlet.ground_fault_trip", self.CLASS_A)
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [x.value for x in judged.limits] == [0.004, 0.006]  # UL 943 Class A, 4 to 6 mA

    @pytest.mark.parametrize(
        ("current", "verdict"),
        [
            ("5.0 mA", Verdict.WITHIN),
            ("5.9 mA", Verdict.BORDERLINE),
            ("7.0 mA", Verdict.OUTSIDE),
            ("3.0 mA", Verdict.OUTSIDE),
        ],
    )
    def test_class_a_trips_between_4_and_6_milliamperes(self, current: str, verdict: Verdict):
        assert self.trip(method="current", trip_current=current).verdict is verdict

    def test_the_button_alone_is_the_monthly_test_and_says_so(self):
        judged = self.trip()
        assert judged.verdict is Verdict.WITHIN
        assert judged.explanation == "Its own button trips it. It restores after its own test"

    @pytest.mark.parametrize(
        "answers",
        [
            {"method": "both", "trip_current": "5.0 mA", "test_current": "8.0 mA"},
            {"method": "both", "trip_time": "90 ms", "test_current": "8.0 mA"},
            {"method": "both", "trip_current": "5.0 mA", "trip_time": "90 ms"},
            {"method": "time", "test_current": "8.0 mA"},
            {"method": "current"},
        ],
    )
    def test_what_the_tester_was_to_show_is_missed(self, answers: dict[str, Any]):
        judged = self.trip(**answers)
        assert judged.verdict is Verdict.NOT_MEASURED
        assert judged.limits

    @pytest.mark.parametrize(
        ("test", "time", "verdict"),
        [
            # T = (20/I)^1.43: 3.707 s at 8 mA, 1.000 s at 20 mA, 5.594 s at 6 mA (UL 943)
            ("8.0 mA", "3000 ms", Verdict.WITHIN),
            ("8.0 mA", "4.50 s", Verdict.OUTSIDE),
            ("20.0 mA", "800 ms", Verdict.WITHIN),
            ("20.0 mA", "1300 ms", Verdict.OUTSIDE),
            ("20.0 mA", "980 ms", Verdict.BORDERLINE),
            # 20 kΩ at 113 V draws 5.65 mA: no test that the device must answer
            ("5.65 mA", "4.00 s", Verdict.NOT_MEASURED),
        ],
    )
    def test_the_time_is_judged_at_the_testers_own_current(
        self, test: str, time: str, verdict: Verdict
    ):
        judged = self.trip(method="time", test_current=test, trip_time=time)
        assert judged.verdict is verdict

    def test_a_device_that_does_not_trip_is_outside_and_is_not_to_be_reset(self):
        judged = self.trip(is_tripped_by_button=False)
        assert judged.verdict is Verdict.OUTSIDE
        assert "reset" not in judged.remedy

    def test_no_device_no_trip_test(self):
        assert found("outlet.ground_fault_trip", self.NONE).verdict is Verdict.NOT_APPLICABLE

    @pytest.mark.parametrize(
        ("second", "says", "verdict"),
        [
            ("none", "allow", Verdict.WITHIN),
            ("present", "silent", Verdict.OUTSIDE),
            ("none", "forbid", Verdict.BORDERLINE),  # a receptacle must have one all the same
        ],
    )
    def test_two_in_series_have_their_consequence(self, second: str, says: str, verdict: Verdict):
        entries = {
            **self.HERE,
            **self.CLASS_A,
            "outlet.series_devices": {"second": second, "instructions": says},
        }
        judged = found("outlet.series_devices", entries)
        assert judged.verdict is verdict
        if second == "present":
            assert judged.severity is Severity.NOTICE

    def test_instructions_that_forbid_it_win_where_the_code_asks_for_none(self):
        entries = {
            **breaker("60 A"),
            "surroundings.place": {"location": "outdoors", "wetness": "wet", "hazard": "none"},
            **self.CLASS_A,
            "outlet.series_devices": {"second": "none", "instructions": "forbid"},
        }
        judged = found("outlet.series_devices", entries, points=(hard_wired(),))
        assert judged.verdict is Verdict.OUTSIDE
        assert judged.sources[0].clause == "110.3(B)"


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


def warm(**answers: str) -> Entries:
    return {
        "outlet.temperature": {
            "sign": "none",
            "method": "contact",
            "surface": "33.0 °C",
            "ambient": "22.0 °C",
            "current": "32.0 A",
            **answers,
        }
    }


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

    def test_limits_are_in_view(self):
        judged = found(self.CHECK, {})
        assert judged.verdict is Verdict.NOT_MEASURED
        assert [x.value for x in judged.limits] == [20.0, 3.0]  # NETA ATS 2003 table 100.18


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


class TestOneChange:
    """One thing changed on site changes the judgements it should, and no others."""

    BASE: ClassVar[Entries] = {
        **CHARGER,
        **RUN,
        "charger.nameplate": {
            "rated_a": "48 A",
            "volts": "240",
            "is_listed": True,
            "enclosure": "type_2",
        },
        "surroundings.place": {"location": "garage", "wetness": "damp", "hazard": "none"},
        "outlet.configuration": {"kind": "14-50", "count": "single"},
        "outlet.cover": {"cover": "closed"},
        "outlet.retention": {"feel": "firm"},
        "outlet.grade": {"grade": "industrial"},
        "outlet.ground_fault": {
            "device": "breaker",
            "device_class": "class_a",
            "is_accessible": True,
        },
        "charger.offered_current": {"method": "duty", "duty": "53.3 %"},
        **load_test(),
        **warm(),
        "vehicle.power": {"displayed": "7.3 kW", "reason": "none"},
    }
    STATIONS: ClassVar[tuple[str, ...]] = ("outlet", "charger", "vehicle", "connector")

    def judgements(self, entries: Entries) -> dict[str, Any]:
        rows = assess(with_entries(visit(), entries), profile("nec_2023")).rows
        return {r.check: r.judgement for r in rows if r.station.value in self.STATIONS}

    @pytest.mark.parametrize(
        ("check", "answers", "changed"),
        [
            ("run.length", {"length": "61.0 m"}, {"outlet.loaded_voltage"}),
            ("run.conductor", {"size": "10 AWG"}, {"outlet.loaded_voltage"}),
            (
                "breaker.rating",
                {"rated_a": "50 A"},
                {
                    "outlet.configuration",
                    "charger.configuration",
                    "charger.offered_current",
                    "charger.network",
                },
            ),
            (
                "outlet.configuration",
                {"kind": "14-30"},
                {"outlet.configuration", "charger.configuration"},
            ),
            (
                "surroundings.place",
                {"wetness": "wet"},
                {"outlet.cover", "charger.nameplate"},
            ),
            ("outlet.temperature", {"ambient": "10.0 °C"}, {"outlet.temperature"}),
            (
                "outlet.loaded_voltage",
                {"outlet_loaded": "230.1 V"},
                {"outlet.loaded_voltage", "vehicle.power"},
            ),
        ],
    )
    def test_changes_what_it_should(self, check: str, answers: dict[str, Any], changed: set[str]):
        before = self.judgements(self.BASE)
        after = self.judgements({**self.BASE, check: {**self.BASE[check], **answers}})
        assert {name for name in before if before[name] != after[name]} == changed
