"""Several chargers on one feeder: setting, sensors, all charging, load added, signal lost.

The permitted current: continuous load counts 125 % (NEC 2023 625.41, 215.3), so a 100 A device
carries 80 A for hours; for a whole service under management the same (220.70).
"""

from typing import Any, Final

import pytest

from checks.record import Attachment, SupplySystem, Visit
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import PANEL, entry, judge, point, visit

BAYS: Final = ("bay-1", "bay-2")
KINDS: Final = ("clamp", "shown")
Plain = dict[str, Any]


def made(*said: tuple[str, str, Plain], **over: Any) -> Visit:
    """A visit to two hard-wired 48 A chargers on one panel's feeder, 100 A, held to 70 A."""
    bays = [point(id=b, name=b, attachment=Attachment.HARD_WIRED, **over.pop(b, {})) for b in BAYS]
    base = (
        ("panel.load", PANEL, {"is_managed": True, "manages": "chargers", "managed_a": "70 A"}),
        (
            "panel.management",
            PANEL,
            {
                "device_a": "100 A",
                "set_a": "70 A",
                "set_on": "invented",
                "is_listed": True,
                "is_restricted": True,
                "is_marked": True,
            },
        ),
        *(("charger.nameplate", b, {"rated_a": "48 A"}) for b in BAYS),
    )
    entries = [entry(c, at, n, **said) for n, (c, at, said) in enumerate((*base, *said), start=1)]
    return visit(points=tuple(bays), entries=tuple(entries), **over)


def shares(first: str, second: str, **more: Any) -> tuple[tuple[str, str, Plain], ...]:
    """What each charger showed with both charging; 46 A alone."""
    return tuple(
        ("charger.together", bay, {"is_held": True, "with_all": amps, "alone": "46.0 A", **more})
        for bay, amps in zip(BAYS, (first, second), strict=True)
    )


def at_work(charging: int = 2, **more: Any) -> tuple[str, str, Plain]:
    plain = {"charging": charging, "is_reduced": True, "is_restored": True, **more}
    return "panel.management_limit", PANEL, plain


def found(check: str, record: Visit, subject: str | None = None) -> Judgement:
    return judge(record, f"panel.{check}", subject)


class TestSetting:
    def test_without_load_management_nothing_is_asked_and_the_report_says_why(self):
        judged = judge(visit(), "panel.management")
        assert judged.verdict is Verdict.NOT_APPLICABLE
        assert "no load management is recorded" in judged.explanation

    def test_a_setting_under_80_percent_of_the_device_is_within(self):
        judged = found("management", made())
        assert judged.verdict is Verdict.WITHIN
        assert [limit.value for limit in judged.limits] == [80.0, 70.0]

    @pytest.mark.parametrize(
        ("change", "severity"),
        [
            ({"device_a": "80 A"}, Severity.WARNING),  # 80 A / 1.25 = 64 A < 70 A
            ({"set_a": "75 A"}, Severity.WARNING),  # more than the room was reckoned with
            ({"is_listed": False}, Severity.WARNING),
            ({"is_marked": False}, Severity.CAUTION),
        ],
    )
    def test_one_thing_wrong_is_outside(self, change: Plain, severity: Severity):
        plain = {"device_a": "100 A", "set_a": "70 A", "set_on": "invented"}
        signs = {"is_listed": True, "is_restricted": True, "is_marked": True}
        judged = found("management", made(("panel.management", PANEL, plain | signs | change)))
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, severity)

    def test_with_the_setting_missing_its_limits_are_in_view(self):
        judged = found("management", made(("panel.management", PANEL, {"device_a": "100 A"})))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert judged.limits[0].value == 80.0


class TestSensors:
    @pytest.mark.parametrize(
        ("clamp", "shown", "verdict", "words"),
        [
            (("40.0 A", "20.0 A"), ("40.3 A", "20.2 A"), Verdict.WITHIN, "each line"),
            (("40.0 A", "20.0 A"), ("-40.1 A", "20.2 A"), Verdict.OUTSIDE, "backwards"),
            (("40.0 A", "20.0 A"), ("20.1 A", "40.2 A"), Verdict.OUTSIDE, "exchanged"),
            (("40.0 A", "20.0 A"), ("20.0 A", "10.0 A"), Verdict.OUTSIDE, "0.50 times"),
            (("1.0 A", "20.0 A"), ("1.0 A", "20.2 A"), Verdict.BORDERLINE, "too little"),
        ],
    )
    def test_direction_ratio_and_line_show(
        self, clamp: tuple[str, str], shown: tuple[str, str], verdict: Verdict, words: str
    ):
        pairs = zip("12", clamp, shown, strict=True)
        plain = {f"{k}_{n}": v for n, c, d in pairs for k, v in (("clamp", c), ("shown", d))}
        judged = found("management_sensors", made(("panel.management_sensors", PANEL, plain)))
        assert judged.verdict is verdict
        assert words in judged.explanation

    @pytest.mark.parametrize(
        ("manages", "verdict"),
        # a house loads its lines unevenly; Level 2 chargers alone load both alike: Kirchhoff
        [("service", Verdict.BORDERLINE), ("chargers", Verdict.WITHIN)],
    )
    def test_lines_that_carry_the_same_do_not_show_an_exchange(
        self, manages: str, verdict: Verdict
    ):
        room = ("panel.load", PANEL, {"is_managed": True, "manages": manages, "managed_a": "70 A"})
        plain = {"clamp_1": "40.0 A", "shown_1": "40.2 A", "clamp_2": "40.0 A", "shown_2": "40.1 A"}
        judged = found("management_sensors", made(room, ("panel.management_sensors", PANEL, plain)))
        assert judged.verdict is verdict

    @pytest.mark.parametrize(
        ("clamp", "shown", "verdict", "words"),
        [
            ((80, 40, 20), (80, 40, 20), Verdict.WITHIN, "each line"),
            ((80, 40, 20), (80, 20, 40), Verdict.OUTSIDE, "lines 2-3 are exchanged"),
            ((80, 40, 20), (20, 40, 80), Verdict.OUTSIDE, "1-3"),
            ((80, 40, 20), (40, 20, 80), Verdict.OUTSIDE, "exchanged"),  # each moved on by one
            # which of two lines that carry the same a sensor sits on shows in no reading
            ((80, 40, 40), (80, 40, 40), Verdict.BORDERLINE, "Lines 2-3 carry the same"),
            ((40, 80, 40), (40, 80, 40), Verdict.BORDERLINE, "Lines 1-3 carry the same"),
            ((80, 40, 40), (40, 80, 40), Verdict.OUTSIDE, "exchanged"),
        ],
    )
    def test_every_two_of_three_lines_are_told_apart(
        self, clamp: tuple[int, ...], shown: tuple[int, ...], verdict: Verdict, words: str
    ):
        pairs = zip("123", clamp, shown, strict=True)
        plain = {f"{k}_{n}": f"{v}.0 A" for n, *cd in pairs for k, v in zip(KINDS, cd, strict=True)}
        wye = {"system": SupplySystem.WYE_208, **{b: {"nominal_v": 208} for b in BAYS}}
        judged = found(
            "management_sensors", made(("panel.management_sensors", PANEL, plain), **wye)
        )
        assert judged.verdict is verdict, judged.explanation
        assert words in judged.explanation

    def test_without_a_reading_of_every_line_it_is_not_measured(self):
        assert found("management_sensors", made()).verdict is Verdict.NOT_MEASURED


class TestAllCharging:
    @pytest.mark.parametrize(
        ("drawn", "verdict"),
        [  # held to 70 A; a 2 % clamp cannot tell 69.5 A from 70 A
            ("66.0 A", Verdict.WITHIN),
            ("69.5 A", Verdict.BORDERLINE),
            ("78.0 A", Verdict.OUTSIDE),
        ],
    )
    def test_the_clamp_on_the_feeder_decides_with_its_accuracy(self, drawn: str, verdict: Verdict):
        assert found("management_limit", made(at_work(drawn=drawn))).verdict is verdict

    @pytest.mark.parametrize(
        ("amps", "verdict"), [("33.0 A", Verdict.WITHIN), ("46.0 A", Verdict.OUTSIDE)]
    )
    def test_without_a_clamp_the_displays_are_added_up(self, amps: str, verdict: Verdict):
        judged = found("management_limit", made(*shares(amps, amps, fallback="6 A"), at_work()))
        assert judged.verdict is verdict
        assert f"bay-1: {amps[:2]} A" in judged.working

    @pytest.mark.parametrize(
        ("amps", "lines", "clamp", "verdict"),
        [  # two equal currents from two pairs meet in one line at 60°: √3 × 38 A = 65.8 A of 70 A
            ("38.0 A", ("l1_l2", "l2_l3"), "", Verdict.WITHIN),
            ("38.0 A", ("l1_l2", "l2_l3"), "66.0 A", Verdict.WITHIN),
            ("38.0 A", ("l1_l2", "l2_l3"), "78.0 A", Verdict.OUTSIDE),
            # the clamp was on another line: √3 × 46 A = 79.7 A
            ("46.0 A", ("l1_l2", "l2_l3"), "46.0 A", Verdict.OUTSIDE),
            # on one pair 76 A
            ("38.0 A", ("l1_l2", "l1_l2"), "66.0 A", Verdict.OUTSIDE),
            # not recorded: between 76 A / √3 = 43.9 A, three lines alike, and 76 A
            ("38.0 A", (), "", Verdict.BORDERLINE),
            ("38.0 A", (), "66.0 A", Verdict.BORDERLINE),
            ("0.0 A", (), "0.0 A", Verdict.WITHIN),
        ],
    )
    def test_on_three_phases_the_most_loaded_line_decides_where_it_can_be_told(
        self, amps: str, lines: tuple[str, ...], clamp: str, verdict: Verdict
    ):
        breakers = [
            ("breaker.rating", bay, {"rated_a": "60 A", "poles": "2", "lines": taken})
            for bay, taken in zip(BAYS, lines, strict=False)
        ]
        record = made(
            *shares(amps, amps),
            *breakers,
            at_work(**({"drawn": clamp} if clamp else {})),
            system=SupplySystem.WYE_208,
            **{bay: {"nominal_v": 208} for bay in BAYS},
        )
        judged = found("management_limit", record)
        assert judged.verdict is verdict, judged.explanation
        if verdict is Verdict.BORDERLINE:
            assert "between 43.9 A and 76.0 A" in judged.explanation
            assert "Record the lines" in judged.settles

    def test_one_charging_of_two_proves_nothing(self):
        judged = found("management_limit", made(at_work(charging=1, drawn="46.0 A")))
        assert judged.verdict is Verdict.NOT_MEASURED
        assert "All 2 must be charging" in judged.explanation

    def test_a_charger_that_is_not_held_is_no_part_of_the_group(self):
        free = (
            "charger.together",
            BAYS[1],
            {"is_held": False, "with_all": "46 A", "alone": "46 A"},
        )
        judged = found("management_limit", made(free, at_work(charging=1, drawn="46.0 A")))
        assert judged.verdict is Verdict.WITHIN

    def test_what_does_not_reduce_is_a_warning(self):
        judged = found("management_limit", made(at_work(drawn="60.0 A", is_reduced=False)))
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)


class TestSignalLost:
    def lost(self, left: str, fallback: str, *more: tuple[str, str, Plain]) -> Judgement:
        lost = ("panel.management_fail_safe", PANEL, {"means": "function", "left": left})
        held = shares("33.0 A", "33.0 A", fallback=fallback)
        return found("management_fail_safe", made(*held, lost, *more))

    def test_what_stays_is_permitted(self):
        assert self.lost("12.0 A", "6 A").verdict is Verdict.WITHIN

    def test_full_current_on_a_lost_signal_is_outside(self):
        judged = self.lost("92.0 A", "46 A")  # 2 × 46 A > 80 A
        assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.WARNING)

    def test_beside_a_house_only_what_its_demand_leaves_is_permitted(self):
        whole = {"is_managed": True, "manages": "service", "managed_a": "80 A"}
        room = ("panel.load", PANEL, whole | {"method": "year", "demand_a": "70 A"})
        judged = self.lost("12.0 A", "6 A", room)  # 100 A / 1.25 - 70 A = 10 A < 12 A
        assert judged.verdict is Verdict.OUTSIDE
        assert judged.limits[0].value == 10.0
        unknown = self.lost("12.0 A", "6 A", ("panel.load", PANEL, whole))
        assert unknown.verdict is Verdict.NOT_MEASURED

    def test_what_is_held_is_asked_before_the_house_is_left_out(self):
        room = ("panel.load", PANEL, {"is_managed": True, "managed_a": "80 A", "demand_a": "70 A"})
        judged = self.lost("12.0 A", "6 A", room)
        assert judged.verdict is Verdict.NOT_MEASURED
        assert "what is held" in judged.explanation

    def test_no_safe_way_to_test_it_is_said(self):
        none = ("panel.management_fail_safe", PANEL, {"means": "none"})
        assert found("management_fail_safe", made(none)).verdict is Verdict.BORDERLINE


class TestOnePointOfSeveral:
    def test_alone_it_is_not_asked(self):
        assert judge(visit(), "charger.together").verdict is Verdict.NOT_APPLICABLE

    @pytest.mark.parametrize(
        ("change", "verdict"),
        [
            ({}, Verdict.WITHIN),
            ({"with_all": "56.0 A"}, Verdict.OUTSIDE),  # more than its 48 A
            ({"alone": "20.0 A"}, Verdict.OUTSIDE),  # gets nothing back
            ({"with_all": "0.0 A", "alone": "0.0 A"}, Verdict.NOT_MEASURED),  # none was charging
            ({"with_all": "0.0 A"}, Verdict.WITHIN),  # held back to nothing by the others
            ({"is_held": None}, Verdict.NOT_MEASURED),
        ],
    )
    def test_it_keeps_to_its_setting_and_gets_its_share_back(self, change: Plain, verdict: Verdict):
        plain = {"is_held": True, "with_all": "33.0 A", "alone": "46.0 A", "fallback": "6 A"}
        said = {name: x for name, x in (plain | change).items() if x is not None}
        record = made(("charger.together", BAYS[0], said))
        assert judge(record, "charger.together", BAYS[0]).verdict is verdict
