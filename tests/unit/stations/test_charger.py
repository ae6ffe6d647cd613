"""The charger: its plate and its setting."""

import pytest

from checks.record import SupplySystem
from checks.verdict import Severity, Verdict
from tests.builders import hard_wired
from tests.unit.stations.charger_entries import OUTDOORS, PLATE, breaker, found, set_to


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


def test_208_volts_change_no_current_limit():
    entries = {**PLATE, **breaker("60 A"), **set_to("48 A", "fixed")}
    wye = found(
        "charger.configuration",
        entries,
        system=SupplySystem.WYE_208,
        points=(hard_wired(nominal_v=208),),
    )
    assert wye.verdict is Verdict.WITHIN
