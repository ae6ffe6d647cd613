"""The joint that hides behind the drops of a load test: its ohms, its leg, its heat."""

import re
from typing import Any

import numpy as np
import pytest

from checks.check import Measurement, Rating
from checks.record import Reading, SupplySystem, Visit
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import judge, level_1, point, visit, with_entries
from tests.unit.stations.outlet_entries import (
    CHARGER,
    HOT,
    RUN,
    Entries,
    breaker,
    found,
    load_test,
)

CHECK = "outlet.loaded_voltage"


# 30.5 m of 8 AWG copper at 25 °C: 0.778 Ω/1000 ft at 75 °C, 0.323 % a kelvin (NEC 2023 chapter 9
# table 8 and its note 2)
ONE_WAY_OHM = 0.778 * 30.5 / 304.8 * (1 + 0.00323 * (25 - 75))


def volts_of(joints_ohm: tuple[float, float], steps_a: tuple[float, ...] = (31.6,)) -> Entries:
    """What a meter would show of two legs with a supply of 20 mΩ each, by Kirchhoff's laws."""
    shown: dict[str, str] = {"air": "25.0 °C", "minutes": "1 min", "plan": "two_steps"}

    def put(name: str, amps: float, place: str) -> None:
        run = [ONE_WAY_OHM + joint for joint in joints_ohm] if place == "outlet" else [0.0, 0.0]
        # nodes: leg 1 and leg 2; the load draws its current from one into the other
        legs = np.array([121.5, 121.5]) - amps * (0.020 + np.array(run))
        for key, volts in zip(("l1", "l2", "both"), (*legs, legs.sum()), strict=True):
            shown[NAMES[place, name, key]] = f"{volts:.1f} V"

    put("no_load", 0.0, "outlet")
    put("no_load", 0.0, "panel")
    for name, amps in zip(("loaded", "second"), steps_a, strict=False):
        shown["current" if name == "loaded" else "second_current"] = f"{amps:.1f} A"
        put(name, amps, "outlet")
        put(name, amps, "panel")
    return {CHECK: shown}


NAMES = {
    ("outlet", "no_load", "both"): "outlet_no_load",
    ("outlet", "no_load", "l1"): "l1_no_load",
    ("outlet", "no_load", "l2"): "l2_no_load",
    ("panel", "no_load", "both"): "panel_no_load",
    ("panel", "no_load", "l1"): "panel_l1_no_load",
    ("panel", "no_load", "l2"): "panel_l2_no_load",
    ("outlet", "loaded", "both"): "outlet_loaded",
    ("outlet", "loaded", "l1"): "l1_loaded",
    ("outlet", "loaded", "l2"): "l2_loaded",
    ("panel", "loaded", "both"): "panel_loaded",
    ("panel", "loaded", "l1"): "panel_l1_loaded",
    ("panel", "loaded", "l2"): "panel_l2_loaded",
    ("outlet", "second", "both"): "second_outlet",
    ("outlet", "second", "l1"): "second_l1",
    ("outlet", "second", "l2"): "second_l2",
    ("panel", "second", "both"): "second_panel",
    ("panel", "second", "l1"): "second_panel_l1",
    ("panel", "second", "l2"): "second_panel_l2",
}


def line_of(judged: Any, start: str) -> tuple[float, float]:
    """Value and interval of a line of the working."""
    line = next(x for x in judged.working if x.startswith(start))
    numbers = re.findall(r"(-?[0-9.]+) ± ([0-9.]+) mΩ", line)
    return float(numbers[-1][0]), float(numbers[-1][1])


def stamped(made: Visit, **at_s: int) -> Visit:
    """The visit with the second current 2 min after the first, and readings so many s after it."""
    later = {"current_again": 120, "outlet_again": 125, **at_s}
    entries = [
        e.model_copy(
            update={
                "answers": tuple(
                    a.model_copy(update={"at": f"2025-06-02T12:0{s // 60}:{s % 60:02d}Z"})
                    if (s := later.get(a.input)) is not None and isinstance(a, Reading)
                    else a
                    for a in e.answers
                )
            }
        )
        for e in made.entries
    ]
    return made.model_copy(update={"entries": tuple(entries)})


class TestHiddenJoint:
    def judged(self, entries: Entries, **over: Any) -> Any:
        return found(CHECK, {**CHARGER, **RUN, **entries}, **over)

    def test_a_known_joint_is_found_on_its_leg_with_its_heat(self):
        # 60 mΩ in L2 beside sound joints of 1.85 mΩ a leg: 60 W at 31.6 A, 61 W at 32 A (Joule)
        judged = self.judged(volts_of((0.00185, 0.06185), (31.6, 16.0)))
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
        ohm, spread = line_of(judged, "not explained by the metal:")
        assert abs(ohm - 63.7) <= spread < 30
        assert "more of it on L2" in judged.explanation
        assert "those of L2 first" in judged.remedy
        assert judged.measured is not None
        assert float(judged.measured.value) == pytest.approx(61, abs=10)

    def test_an_owner_reads_one_sentence(self):
        judged = self.judged(volts_of((0.00185, 0.06185), (31.6, 16.0)))
        # 61 W: a soldering iron takes 25 to 80 W (common practice, no source)
        assert judged.why.startswith(
            "A connection in one leg, L2, between panel and outlet turns about as much power to "
            "heat as a soldering iron"
        )

    def test_sound_joints_are_no_finding_and_say_what_the_volts_cannot_show(self):
        judged = self.judged(volts_of((0.00185, 0.00185), (31.6, 16.0)))
        assert judged.verdict is Verdict.WITHIN
        # the drop comes first and is called within; what is open names what settles it
        assert re.search(
            r"at 32 A: within\. The volts are too coarse to show one bad joint of less than \d+ W "
            r"of heat\. Temperatures under load settle that",
            judged.explanation,
        )

    def test_without_the_panel_the_volts_are_said_to_be_too_coarse_for_that(self):
        entries = volts_of((0.0, 0.0))
        outlet = {k: v for k, v in entries[CHECK].items() if "panel" not in k and k[0] != "l"}
        judged = self.judged({CHECK: outlet})
        assert judged.verdict is Verdict.WITHIN
        assert (
            ": within. Without volts at the panel one bad joint of less than" in judged.explanation
        )

    def test_a_joint_that_the_readings_speak_for_and_do_not_show_is_left_open(self):
        # 70 mΩ at 32 A are 72 W (Joule); without the panel the supply may be 10 to 100 mΩ
        entries = volts_of((0.0, 0.070))
        outlet = {k: v for k, v in entries[CHECK].items() if "panel" not in k and k[0] != "l"}
        judged = self.judged({CHECK: outlet})
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.NOTICE)
        assert "do not show it" in judged.explanation
        assert judged.settles.startswith("Read volts at the panel as well")
        assert "at most 10 W" in map(str, judged.limits)

    def test_a_second_current_makes_it_surer(self):
        one = self.judged(volts_of((0.00185, 0.06185)))
        two = self.judged(volts_of((0.00185, 0.06185), (31.6, 30.0)))
        start = "from there to the outlet:"
        assert line_of(two, start)[1] < line_of(one, start)[1]

    def test_the_heat_at_the_test_and_at_full_current_are_told_apart(self):
        judged = self.judged(volts_of((0.0, 0.080), (16.0,)))
        # 80 mΩ: 20 W at 16 A, 82 W at 32 A (Joule); sound joints take 4 mΩ of it
        heat = re.search(r"(\d+) ± \d+ W of heat at 16.0 A, (\d+) ± \d+ W of", judged.explanation)
        assert heat is not None
        assert float(heat[2]) == pytest.approx(4 * float(heat[1]), rel=0.05)
        assert float(heat[2]) == pytest.approx(78, abs=15)

    def test_a_supply_that_moves_is_noticed_and_widens_the_interval(self):
        still = self.judged(load_test(**HOT, outlet_again="233.5 V"))
        moved = self.judged(load_test(**HOT, outlet_again="231.3 V"))
        assert "The supply moved" in moved.explanation
        assert "The supply moved" not in still.explanation
        start = "left for a hidden joint:"
        assert line_of(moved, start)[1] > line_of(still, start)[1]

    @pytest.mark.parametrize(
        ("amps", "is_noticed"), [("31.5 A", False), ("28.4 A", True), ("20.0 A", True)]
    )
    def test_a_vehicle_that_throttles_is_noticed(self, amps: str, is_noticed: bool):
        # 10 % less than 31.6 A is more than the clamp's two errors differ by: its gain is shared,
        # its counts are ±0.5 A each
        volts = f"{243.0 - (243.0 - 233.5) * float(amps[:-2]) / 31.6:.1f} V"
        judged = self.judged(load_test(**HOT, current_again=amps, outlet_again=volts))
        assert ("The current changed" in judged.explanation) is is_noticed
        assert judged.severity is Severity.DANGER

    def test_a_reading_between_two_currents_that_differ_is_known_less_well(self):
        entries = {**CHARGER, **RUN, **load_test(**HOT, current_again="24.0 A")}
        made = with_entries(visit(points=(point(),)), entries)
        early, between = (judge(stamped(made, panel_loaded=at), CHECK) for at in (0, 100))
        start = "supply up to the panel:"
        assert line_of(between, start)[1] > 1.2 * line_of(early, start)[1]
        # fewer amperes made the same drop: 31.6 A at first, 24.0 A two minutes later
        assert line_of(between, start)[0] > 1.1 * line_of(early, start)[0]

    def test_what_cannot_be_told_apart_and_what_would_tell_more_is_said(self):
        judged = self.judged(load_test(**HOT))
        said = " ".join(judged.working)
        assert "joints in series share it" in said
        assert "each leg" in said
        assert "milliohms across each joint" in said
        assert "qualified" in said
        assert "CAT III" in said

    def test_of_a_joint_that_burns_more_is_learned_dead_and_never_by_more_current(self):
        # 80 mΩ: 20 W at 16 A, 82 W at 32 A (Joule)
        burning, open_yet = (
            [x for x in self.judged(volts_of(j, (16.0,))).working if "would tell more" in x]
            for j in ((0.0, 0.080), (0.00185, 0.00185))
        )
        assert "circuit dead, locked and proved" in burning[0]
        assert not any("full current" in line for line in burning)
        assert any("full current" in line for line in open_yet)

    def test_a_joint_near_the_heat_limit_says_what_would_settle_it(self):
        # 25 mΩ at 20 A would be 10 W (Joule): 28 mΩ read at 31.6 A are 11 W, known to ±8 W
        entries = {**volts_of((0.00185, 0.02985), (31.6, 31.0)), **breaker("25 A")}
        entries["charger.configuration"] = {"configured_a": "20 A"}
        judged = self.judged(entries)
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.CAUTION)
        assert "compare the temperature of like parts" in judged.settles

    def test_a_length_that_is_only_estimated_hides_a_joint(self):
        # an estimate is known within 20 %, or 26 mΩ of this run's 128
        guessed = {"run.length": {"basis": "estimated", "stated": "30.5 m"}}
        entries = volts_of((0.00185, 0.03185), (31.6, 16.0))
        measured = line_of(self.judged(entries), "not explained by the metal:")
        estimated = line_of(self.judged({**entries, **guessed}), "not explained by the metal:")
        assert estimated[0] == pytest.approx(measured[0], abs=1)
        expected = (measured[1] ** 2 + (2 * 0.20 * 128 / 3**0.5) ** 2) ** 0.5
        assert estimated[1] == pytest.approx(expected, rel=0.1)

    def test_air_and_time_under_load_tell_how_warm_the_metal_is(self):
        known = load_test(**HOT)
        known[CHECK] |= {"air": "25.0 °C", "minutes": "2 min"}
        temp = "30.5 ± 0.71 m of 8 AWG copper"
        one, other = (line_of(self.judged(x), temp) for x in (load_test(**HOT), known))
        assert other[1] < one[1]

    def test_without_the_panel_the_supply_is_taken_and_said_to_be(self):
        entries = volts_of((0.0, 0.150))
        kept = {k: v for k, v in entries[CHECK].items() if "panel" not in k}
        judged = self.judged({CHECK: kept})
        # 150 mΩ stand out of a supply of 10 to 100 mΩ; they may be anywhere before the outlet
        assert judged.severity is Severity.DANGER
        assert "on the way to the outlet" in judged.explanation
        assert "more of it on L2" in judged.explanation
        assert "not measured" in judged.working[0]
        assert any("read volts at the panel" in line for line in judged.working)

    def test_a_weak_supply_is_no_danger_before_the_panel_is_read(self):
        # 10 kVA at 1.5 % of resistance is 86 mΩ at 240 V, 45 m of 2 AWG aluminum there and back
        # 96 mΩ (0.32 Ω/1000 ft, chapter 9 table 8): 180 mΩ without one bad joint; common practice
        read = volts_of((0.080, 0.080))[CHECK]
        outlet_alone = {k: v for k, v in read.items() if "panel" not in k and "l1" not in k}
        outlet_alone = {k: v for k, v in outlet_alone.items() if "l2" not in k}
        judged = self.judged({CHECK: outlet_alone})
        assert (judged.verdict, judged.severity) == (Verdict.BORDERLINE, Severity.WARNING)
        assert "no more than 100 mΩ" in judged.explanation
        assert "read the volts at the panel" in judged.remedy
        with_panel = {k: v for k, v in read.items() if "l1" not in k and "l2" not in k}
        assert self.judged({CHECK: with_panel}).severity is Severity.DANGER

    def test_without_the_run_there_is_no_word_of_joints(self):
        judged = found(CHECK, {**CHARGER, **load_test(**HOT)})
        assert judged.severity is Severity.NOTICE
        assert "metal" not in judged.explanation

    def test_level_1_holds_it_in_the_line_or_in_the_neutral(self):
        # 12 AWG, 20 m: 2 × 20 m × 6.50 mΩ/m × 0.855 (1.98 Ω/1000 ft at 75 °C, table 8, at 30 °C);
        # 0.25 Ω in the neutral at 12 A: neutral to ground rises by 12 × (0.111 + 0.25) V
        run = {
            **breaker("20 A"),
            "charger.configuration": {"configured_a": "12 A"},
            "run.conductor": {"size": "12 AWG", "material": "copper"},
            "run.length": {"basis": "measured", "length": "20.0 m"},
        }
        volts = {
            "outlet_no_load": "121.0 V",
            "l1_no_load": "121.0 V",
            "l2_no_load": "0.0 V",
            "panel_no_load": "121.0 V",
            "current": "12.0 A",
            "outlet_loaded": "114.9 V",
            "l1_loaded": "119.2 V",
            "l2_loaded": "4.3 V",
            "panel_loaded": "120.6 V",
            "outlet_again": "114.9 V",
        }
        judged = found(CHECK, {**run, CHECK: volts}, points=(level_1(),))
        assert "more of it on the neutral" in judged.explanation
        assert "in the neutral between panel and outlet" in judged.why
        # 0.25 Ω × 144 A² = 36 W
        assert float(judged.measured.value) == pytest.approx(36, abs=4)

    def test_two_legs_of_a_wye_are_judged_as_such(self):
        # 208 V; 0.2 Ω more in L1 at 31.6 A: 6.3 V between the lines, and 5.5 V (cos 30°) of L1
        volts = {
            "outlet_no_load": "208.0 V",
            "l1_no_load": "120.1 V",
            "l2_no_load": "120.1 V",
            "panel_no_load": "208.0 V",
            "panel_l1_no_load": "120.1 V",
            "panel_l2_no_load": "120.1 V",
            "current": "31.6 A",
            "outlet_loaded": "196.2 V",
            "l1_loaded": "112.1 V",
            "l2_loaded": "117.6 V",
            "panel_loaded": "206.7 V",
            "panel_l1_loaded": "119.5 V",
            "panel_l2_loaded": "119.5 V",
            "outlet_again": "196.2 V",
        }
        judged = self.judged(
            {CHECK: volts}, system=SupplySystem.WYE_208, points=(point(nominal_v=208),)
        )
        assert "more of it on L1" in judged.explanation
        ohm, spread = line_of(judged, "not explained by the metal:")
        assert abs(ohm - 200) <= spread

    def test_the_staircase_says_what_metal_alone_would_leave(self):
        # 233.5 V and 31.6 A × (269 - 133) mΩ, copper at 30 °C by table 8: 237.8 V
        panel, outlet = self.judged(load_test(**HOT)).steps
        assert panel.metal_v == panel.loaded_v == "242.0"
        assert float(outlet.metal_v) == pytest.approx(237.8, abs=0.2)

    def test_without_the_run_the_staircase_has_no_such_step(self):
        steps = found(CHECK, {**CHARGER, **load_test(**HOT)}).steps
        assert [step.metal_v for step in steps] == ["", ""]

    def test_the_excess_is_followed_from_visit_to_visit(self):
        (each,) = self.judged(load_test()).tracked
        assert (each.amount.of, each.amount.unit) == ("not explained by the metal", "mΩ")
        # sound joints, by their stated ranges in the middle 3.7 mΩ, and 10 W / 32² A²
        assert each.limits[0].value == pytest.approx(0.0037 + 10 / 32**2, rel=1e-6)

    def test_a_reading_of_every_input_is_used(self):
        """An input that no judge reads would be asked for nothing."""
        full = volts_of((0.00185, 0.06185), (31.6, 16.0))
        full[CHECK] |= {"current_again": "31.0 A", "outlet_again": "233.0 V"}
        whole = self.judged(full)
        asked = [i for i in BY_ID[CHECK].inputs if isinstance(i, Measurement | Rating)]
        assert {i.name for i in asked} <= set(full[CHECK])
        for each in asked:
            value, unit = full[CHECK][each.name].split()
            other = {**full[CHECK], each.name: f"{float(value) + 2:.1f} {unit}"}
            assert self.judged({CHECK: other}) != whole, each.name
