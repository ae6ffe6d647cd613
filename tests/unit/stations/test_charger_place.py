"""The charger: cords, mounting, ventilation, disconnect."""

from typing import Any

import pytest

from checks.verdict import Severity, Verdict
from tests.builders import hard_wired, level_1, point
from tests.unit.stations.charger_entries import GARAGE, OUTDOORS, Entries, found


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
