"""The outlet: condition and terminals, and what one change there moves."""

from typing import Any, ClassVar

import pytest

from checks.assess import assess
from checks.codes import profile
from checks.verdict import Severity, Verdict
from tests.builders import (
    hard_wired,
    level_1,
    visit,
    with_entries,
)
from tests.unit.stations.outlet_entries import (
    CHARGER,
    RUN,
    Entries,
    found,
    load_test,
    receptacle,
    warm,
)


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


@pytest.mark.parametrize(
    ("kind", "is_marked", "verdict"),
    [
        # NEC 406.12, read in the 2017 edition: 15 A and 20 A, 125 V and 250 V, in a dwelling
        ("5-20", True, Verdict.WITHIN),
        ("5-20", False, Verdict.OUTSIDE),
        ("5-20", None, Verdict.NOT_MEASURED),
        ("14-50", None, Verdict.WITHIN),
    ],
)
def test_a_small_receptacle_of_a_dwelling_is_tamper_resistant(
    kind: str, is_marked: bool | None, verdict: Verdict
):
    firm = {"is_fixed": True, "is_face_whole": True, "is_plug_free": True}
    marked = {} if is_marked is None else {"is_tamper_resistant": is_marked}
    entries = {
        "outlet.configuration": {"kind": kind},
        "outlet.mounting": {**firm, "is_cord_extended": False, **marked},
    }
    assert found("outlet.mounting", entries).verdict is verdict


class TestTermination:
    SOUND: ClassVar[dict[str, Any]] = {
        "is_relieved": True,
        "are_strands_captured": True,
        "is_insulation_clear": True,
        "is_entry_sealed": True,
    }

    def test_a_receptacles_terminals_are_looked_at_as_well(self):
        """Common practice: where strands are left out it burns, whatever it belongs to."""
        copper = {"run.conductor": {"size": "6 AWG", "material": "copper"}}
        entries = {**copper, "outlet.termination": self.SOUND}
        wired = found("outlet.termination", entries, points=(hard_wired(),))
        assert wired.verdict is Verdict.WITHIN
        box = {k: v for k, v in self.SOUND.items() if k != "is_entry_sealed"}  # it has no gasket
        by_plug = {**copper, "outlet.termination": box}
        assert found("outlet.termination", by_plug).verdict is Verdict.WITHIN
        assert (
            found("outlet.termination", by_plug, points=(hard_wired(),)).verdict
            is Verdict.NOT_MEASURED
        )
        stray = {**copper, "outlet.termination": {**box, "are_strands_captured": False}}
        assert found("outlet.termination", stray).severity is Severity.WARNING

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

    @pytest.mark.parametrize(
        ("place", "is_wired", "device", "is_open"),
        [
            # common practice, no source: what was taken off for a test is tightened once more
            ("panel", True, "none", True),  # a charger is taken off before test voltage
            ("panel", False, "receptacle", True),  # and so are electronics in the receptacle
            ("panel", False, "none", False),  # a plain receptacle may stay: its plug is pulled
            ("outlet", False, "none", True),  # the probes are on the conductors' ends
            ("electronic", False, "breaker", True),
        ],
    )
    def test_a_torque_before_the_insulation_test_counts_no_longer(
        self, place: str, is_wired: bool, device: str, is_open: bool
    ):
        points = (hard_wired(),) if is_wired else visit().points
        torque = {
            "outlet.terminal_torque": {
                "occasion": "tightening",
                "label": "3.0 N·m",
                "applied": "3.0 N·m",
                "are_all_done": True,
            }
        }
        tested = {"outlet.ground_fault": {"device": device}, "run.insulation": {"place": place}}
        before = found("outlet.terminal_torque", torque | tested, points=points)
        after = found("outlet.terminal_torque", tested | torque, points=points)
        assert before.verdict is (Verdict.BORDERLINE if is_open else Verdict.WITHIN)
        assert ("conductors off the outlet" in before.explanation) is is_open
        assert after.verdict is Verdict.WITHIN

    def test_nor_does_one_before_the_receptacle_was_taken_off_to_read_the_run(self):
        torque = {
            "outlet.terminal_torque": {
                "occasion": "tightening",
                "label": "3.0 N·m",
                "applied": "3.0 N·m",
                "are_all_done": True,
            }
        }
        off = {"run.insulation_alone": {"is_off": True}}
        assert found("outlet.terminal_torque", torque | off).verdict is Verdict.BORDERLINE
        assert found("outlet.terminal_torque", off | torque).verdict is Verdict.WITHIN

    def test_a_torque_found_later_is_never_within(self):
        entries = {"outlet.terminal_torque": {"occasion": "found", "found": "not loose"}}
        assert found("outlet.terminal_torque", entries).verdict is Verdict.BORDERLINE


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
