"""Ground-fault protection at the outlet: required or not, its class, its trip, in series."""

from typing import Any, ClassVar

import pytest

from checks.record import Occupancy, Site
from checks.verdict import Severity, Verdict
from tests.builders import (
    hard_wired,
)
from tests.unit.stations.outlet_entries import (
    breaker,
    found,
)


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

    def test_a_device_that_no_tester_trips_is_out_of_use_though_its_button_trips_it(self):
        # UL 943, Class A: it must trip from 6 mA on; its button tests less than a tester does
        judged = self.trip(method="none")
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)
        assert "out of use" in judged.remedy

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
