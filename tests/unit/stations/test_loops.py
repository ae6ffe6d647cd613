"""The loops to neutral and ground: which conductor holds a joint."""

from typing import Any, ClassVar

import pytest

from checks.record import VisitKind
from checks.verdict import Severity, Verdict
from tests.unit.stations.outlet_entries import (
    CHARGER,
    HOT,
    RUN,
    Entries,
    found,
    load_test,
)

CHECK = "outlet.loaded_voltage"


class TestLoops:
    CHECK = "outlet.loop_resistance"
    BASE: ClassVar[Entries] = {
        **CHARGER,
        **RUN,
        "run.grounding_conductor": {"kind": "wire", "size": "10 AWG", "material": "copper"},
    }
    # 30.5 m of 8 AWG are 64 mΩ one way at 20 °C, of 10 AWG 102 mΩ (NEC 2023
    # chapter 9 table 8); supply 40 mΩ
    SOUND: ClassVar[Entries] = {
        CHECK: {
            "conductors": "two_lines_neutral",
            "l1_neutral": "0.175 Ω",
            "l2_neutral": "0.175 Ω",
            "l1_ground": "0.213 Ω",
            "l2_ground": "0.213 Ω",
            "panel": "0.040 Ω",
        }
    }

    def judged(self, extra_ohm: dict[str, float] | None = None, **over: Any) -> Any:
        loops = dict(self.SOUND[self.CHECK])
        for name, extra in (extra_ohm or {}).items():
            loops[name] = f"{float(loops[name][:-2]) + extra:.3f} Ω"
        over = {"kind": VisitKind.SERVICE_CALL, **over}
        return found(self.CHECK, {**self.BASE, self.CHECK: loops}, **over)

    def test_sound_loops_are_within(self):
        assert self.judged().verdict is Verdict.WITHIN

    @pytest.mark.parametrize(
        ("loops", "words", "severity"),
        [
            # both loops of a line, all loops of the neutral, all loops of the ground: Kirchhoff
            (("l1_neutral", "l1_ground"), "in L1", Severity.DANGER),
            (("l2_neutral", "l2_ground"), "in L2", Severity.DANGER),
            (("l1_neutral", "l2_neutral"), "in the neutral", Severity.DANGER),
            (("l1_ground", "l2_ground"), "in the ground", Severity.WARNING),
        ],
    )
    def test_the_loops_tell_which_conductor_holds_a_joint(
        self, loops: tuple[str, ...], words: str, severity: Severity
    ):
        judged = self.judged(dict.fromkeys(loops, 0.200))
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)
        assert f"the loops show it {words}" in judged.explanation

    def test_without_the_panel_the_supply_takes_its_share(self):
        loops = {k: v for k, v in self.SOUND[self.CHECK].items() if k != "panel"}
        judged = found(self.CHECK, {**self.BASE, self.CHECK: loops}, kind=VisitKind.SERVICE_CALL)
        assert judged.verdict is Verdict.WITHIN
        assert any("10 to 100 mΩ" in str(source) for source in judged.sources)

    @pytest.mark.parametrize(
        ("kept", "verdict", "words"),
        [
            # one loop says nothing of the other line; a ground-fault device excuses the ground
            (("l1_neutral",), Verdict.NOT_MEASURED, "L2 to neutral"),
            (("l1_neutral", "l2_neutral"), Verdict.WITHIN, "every loop that was read"),
        ],
    )
    def test_a_loop_that_was_not_read_is_no_sound_one(
        self, kept: tuple[str, ...], verdict: Verdict, words: str
    ):
        loops = {k: self.SOUND[self.CHECK][k] for k in ("conductors", "panel", *kept)}
        judged = found(self.CHECK, {**self.BASE, self.CHECK: loops}, kind=VisitKind.SERVICE_CALL)
        assert judged.verdict is verdict
        assert words in judged.explanation

    def test_without_a_neutral_the_ground_tells_of_both_lines(self):
        loops = {"conductors": "two_lines", "l1_ground": "0.213 Ω", "panel": "0.040 Ω"}
        judged = found(self.CHECK, {**self.BASE, self.CHECK: loops}, kind=VisitKind.SERVICE_CALL)
        assert judged.verdict is Verdict.NOT_MEASURED
        assert "L2 to ground" in judged.explanation

    def test_a_loop_through_a_raceway_is_read_and_not_judged(self):
        # 2.5 Ω let 48 A flow at 120 V (Ohm): no breaker of 40 A opens at once
        raceway = {**self.BASE, "run.grounding_conductor": {"kind": "raceway"}}
        loops = {**self.SOUND[self.CHECK], "l1_ground": "2.50 Ω"}
        judged = found(self.CHECK, {**raceway, self.CHECK: loops}, kind=VisitKind.SERVICE_CALL)
        assert judged.verdict is Verdict.BORDERLINE
        assert "From L1 to ground there are 2.50 Ω" in judged.explanation
        assert "no wire" in judged.explanation

    def test_without_the_run_nothing_is_judged(self):
        judged = found(self.CHECK, self.SOUND, kind=VisitKind.SERVICE_CALL)
        assert judged.verdict is Verdict.NOT_MEASURED

    def test_a_commissioning_does_not_ask_for_it(self):
        assert found(self.CHECK, {}).verdict is Verdict.NOT_APPLICABLE

    def test_it_names_the_leg_that_the_volts_leave_open(self):
        hot = {**self.BASE, **load_test(**HOT)}
        open_ = found(CHECK, hot, kind=VisitKind.SERVICE_CALL)
        loops = {**self.SOUND[self.CHECK], "l2_neutral": "0.310 Ω", "l2_ground": "0.348 Ω"}
        named = found(CHECK, {**hot, self.CHECK: loops}, kind=VisitKind.SERVICE_CALL)
        assert "more of it on" not in open_.explanation
        assert "more of it on L2" in named.explanation
