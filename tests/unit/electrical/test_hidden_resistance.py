import pytest
from uncertainties import ufloat

from checks.electrical.assumed_ohms import conductor_temp_c, explained_ohm, sound_joints_ohm
from checks.electrical.joint import JOINT_W, Joint, NextReading, find_joint, heat_in_words
from checks.electrical.least_squares import covariance, estimator, straight_line
from checks.electrical.load_fit import load_line
from checks.electrical.load_line import Between, Circuit, LoadReading, Place
from checks.electrical.loop_reading import holder, loop_excess_ohm
from checks.errors import OutOfRangeError
from checks.quantity import Accuracy, expanded, gain, measured, nominal
from checks.units import Dimension

BOTH, FIRST, SECOND = Between.BOTH, Between.FIRST, Between.SECOND
PANEL, OUTLET = Place.PANEL, Place.OUTLET
VOLTS = Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3)
SOUND = sound_joints_ohm(terminals=4, contacts=2)


def test_readings_turn_volts_into_resistances() -> None:
    # two legs with 40 and 60 mΩ up to the panel, 30 and 80 mΩ of run; 30 A; by hand
    line = load_line(Circuit.SPLIT, exact())

    assert nominal(line.supply.loop_ohm) == pytest.approx(0.100)
    assert nominal(line.branch.loop_ohm) == pytest.approx(0.110)
    assert [nominal(x) for x in line.branch.legs_ohm] == pytest.approx([0.030, 0.080])


def exact(amps: float = 30.0, legs: tuple[float, float] = (0.030, 0.080)) -> list[LoadReading]:
    readings = []
    visits = ((OUTLET, 0.0), (PANEL, 0.0), (PANEL, amps), (OUTLET, amps), (PANEL, amps))
    for minute, (place, current_a) in enumerate(visits):
        run = legs if place is OUTLET else (0.0, 0.0)
        first = 121.0 - current_a * (0.040 + run[0])
        second = 119.0 - current_a * (0.060 + run[1])
        for between, volts in ((FIRST, first), (SECOND, second), (BOTH, first + second)):
            readings.append(LoadReading(place, between, 90.0 * minute, volts, current_a))
    return readings


def metered(readings: list[LoadReading], shared: bool = True) -> list[LoadReading]:
    """Give every reading the errors of a meter; one for all, or another at the panel."""
    gains = {OUTLET: gain(VOLTS)}
    gains[PANEL] = gains[OUTLET] if shared else gain(VOLTS)
    return [
        LoadReading(
            r.place,
            r.between,
            r.at_s,
            measured(f"{r.volts_v:.1f}", "V", VOLTS, gains[r.place]),
            r.current_a,
        )
        for r in readings
    ]


def test_the_order_of_readings_does_not_matter() -> None:
    forward, backward = (
        load_line(Circuit.SPLIT, each) for each in (exact(), list(reversed(exact())))
    )

    assert nominal(backward.branch.loop_ohm) == pytest.approx(nominal(forward.branch.loop_ohm))


def test_between_both_conductors_alone_the_loop_is_known_and_no_leg() -> None:
    line = load_line(Circuit.SPLIT, [r for r in exact() if r.between is BOTH])

    assert nominal(line.branch.loop_ohm) == pytest.approx(0.110)
    assert line.branch.legs_ohm is None


def test_without_the_panel_there_is_no_branch_and_the_supply_is_assumed() -> None:
    line = load_line(Circuit.SPLIT, [r for r in exact() if r.place is OUTLET])
    joint = find_joint(line, 0.05, SOUND)

    assert line.branch is None
    assert NextReading.PANEL in joint.next_readings(30.0)
    assert nominal(joint.supply_ohm) == pytest.approx(0.055)  # middle of 10 to 100 mΩ
    assert expanded(joint.excess_ohm) > 0.045  # nearly the whole range of what it may be


def test_legs_at_the_outlet_alone_still_give_the_branch_loop() -> None:
    readings = [r for r in exact() if r.place is OUTLET or r.between is BOTH]
    line = load_line(Circuit.SPLIT, readings)

    assert nominal(line.branch.loop_ohm) == pytest.approx(0.110)
    assert line.branch.legs_ohm is None


def test_one_meter_knows_the_branch_far_better_than_its_volts() -> None:
    # ±(1 % + 3 counts): a volt reading is ±2.7 V; the difference of two loaded readings is known
    # to the counts: U = 2·√2·0.3/√3/30 = 16 mΩ between both conductors; legs and repeats help
    line = load_line(Circuit.SPLIT, metered(exact()))

    assert expanded(line.branch.loop_ohm) < 0.016


def test_two_meters_are_compared_without_load() -> None:
    # gains that differ by up to 2 % would hide 4.8 V; the readings without load take them out
    line = load_line(Circuit.SPLIT, metered(exact(), shared=False))

    assert expanded(line.branch.loop_ohm) < 0.025


def test_several_steps_of_load_give_one_line() -> None:
    readings = exact(15.0) + [
        LoadReading(r.place, r.between, 600.0 + r.at_s, r.volts_v, r.current_a) for r in exact(30.0)
    ]
    both = load_line(Circuit.SPLIT, metered(readings))
    one = load_line(Circuit.SPLIT, metered(exact(15.0)))

    assert nominal(both.branch.loop_ohm) == pytest.approx(0.110, abs=0.005)
    assert expanded(both.branch.loop_ohm) < expanded(one.branch.loop_ohm) / 2


def test_a_line_through_steps_needs_no_reading_without_load() -> None:
    readings = [r for r in exact(15.0) + exact(30.0) if r.is_loaded]

    assert nominal(load_line(Circuit.SPLIT, readings).outlet.loop_ohm) == pytest.approx(0.210)


def test_a_supply_that_moves_is_noticed_and_widens_the_interval() -> None:
    still = load_line(Circuit.SPLIT, metered(exact()))
    readings = [
        LoadReading(
            r.place,
            r.between,
            r.at_s,
            r.volts_v - (2.0 if r.at_s > 300 and r.between is not SECOND else 0.0),
            r.current_a,
        )
        for r in exact()
    ]
    moved = load_line(Circuit.SPLIT, metered(readings))

    assert (still.moved, moved.moved) == (False, True)
    assert expanded(moved.branch.loop_ohm) > 1.5 * expanded(still.branch.loop_ohm)


def test_a_current_that_tapers_is_noticed() -> None:
    clamp = Accuracy(dimension=Dimension.CURRENT, percent="2.0", counts=5)
    own = gain(clamp)

    def at(last: str) -> list[LoadReading]:
        texts = {r.at_s: "30.0" for r in exact()} | {360.0: last}
        return [
            LoadReading(
                r.place,
                r.between,
                r.at_s,
                r.volts_v,
                measured(texts[r.at_s], "A", clamp, own) if r.is_loaded else 0.0,
            )
            for r in exact()
        ]

    assert not load_line(Circuit.SPLIT, at("29.8")).tapered
    assert load_line(Circuit.SPLIT, at("27.5")).tapered


def test_the_neutrals_drop_shows_between_neutral_and_ground() -> None:
    # Level 1, 12 A: supply 60 mΩ, line 50 mΩ, neutral 150 mΩ; by hand
    def read(place: Place, between: Between, at_s: float, volts: float, amps: float) -> LoadReading:
        return LoadReading(place, between, at_s, volts, amps)

    readings = [
        read(OUTLET, BOTH, 0, 120.0, 0.0),
        read(OUTLET, FIRST, 5, 120.0, 0.0),
        read(OUTLET, SECOND, 10, 0.0, 0.0),
        read(PANEL, BOTH, 90, 120.0, 0.0),
        read(PANEL, BOTH, 180, 120.0 - 12 * 0.060, 12.0),
        read(OUTLET, BOTH, 270, 120.0 - 12 * 0.260, 12.0),
        read(OUTLET, FIRST, 275, 120.0 - 12 * 0.110, 12.0),
        read(OUTLET, SECOND, 280, 12 * 0.150, 12.0),
    ]
    line = load_line(Circuit.SINGLE, readings)

    assert nominal(line.branch.loop_ohm) == pytest.approx(0.200)
    assert [nominal(x) for x in line.branch.legs_ohm] == pytest.approx([0.050, 0.150])


def test_on_a_wye_a_leg_to_neutral_shows_cos_30_of_its_drop() -> None:
    part = 3**0.5 / 2
    readings = [
        LoadReading(r.place, r.between, r.at_s, 120.0 - part * (drop), r.current_a)
        if r.between is not BOTH
        else LoadReading(r.place, r.between, r.at_s, 208.0 - (240.0 - r.volts_v), r.current_a)
        for r in exact()
        for drop in [(121.0 if r.between is FIRST else 119.0) - r.volts_v]
    ]
    line = load_line(Circuit.WYE, readings)

    assert [nominal(x) for x in line.branch.legs_ohm] == pytest.approx([0.030, 0.080])


@pytest.mark.parametrize(
    "kept",
    [
        lambda r: not r.is_loaded,
        lambda r: r.is_loaded,
        lambda r: r.place is PANEL,
        lambda r: r.between is FIRST,
    ],
)
def test_what_is_missing_is_asked_for(kept: object) -> None:
    assert callable(kept)
    with pytest.raises(OutOfRangeError, match="volts without load and, at the outlet, with load"):
        load_line(Circuit.SPLIT, [r for r in exact() if kept(r)])


def joint(legs: tuple[float, float]) -> Joint:
    return find_joint(load_line(Circuit.SPLIT, metered(exact(legs=legs))), 0.060, SOUND)


def test_a_bad_joint_is_sure_has_its_leg_and_its_heat() -> None:
    found = joint((0.030, 0.090))

    assert found.is_sure
    assert found.leg == "L2"
    # 120 mΩ less 60 of metal less 3.7 of sound joints = 56.3 mΩ; at 30 A 50.7 W, at 40 A 90 W
    assert nominal(found.test_heat_w()) == pytest.approx(50.7, abs=2.5)
    assert nominal(found.full_heat_w(40.0)) == pytest.approx(90.1, abs=4.5)
    assert found.most_heat_w(40.0) > nominal(found.full_heat_w(40.0)) > JOINT_W


def test_sound_joints_are_no_finding_and_no_leg_is_named() -> None:
    found = joint((0.032, 0.032))

    assert not found.is_sure
    assert found.leg == ""
    assert found.is_plausible


def test_less_than_the_metal_has_is_not_plausible() -> None:
    assert not joint((0.010, 0.010)).is_plausible


def test_a_leg_is_named_without_a_repeat_only_when_no_other_load_could_look_so() -> None:
    def once(extra: float) -> str:
        readings = [r for r in exact(legs=(0.030, 0.030 + extra)) if r.at_s < 300]
        return find_joint(load_line(Circuit.SPLIT, metered(readings)), 0.060, SOUND).leg

    assert once(0.050) == ""  # 1.5 V
    assert once(0.120) == "L2"  # 3.6 V


def test_the_easiest_reading_comes_first_and_no_part_is_eased_out() -> None:
    line = load_line(Circuit.SPLIT, [r for r in exact() if r.place is OUTLET and r.between is BOTH])
    quiet, burning = (find_joint(line, metal_ohm, SOUND) for metal_ohm in (0.12, 0.05))
    wanted = quiet.next_readings(60.0)

    assert not quiet.is_sure
    assert burning.is_sure
    assert burning.next_readings(60.0)[0] is NextReading.DEAD_OHMS
    assert NextReading.MORE_CURRENT not in burning.next_readings(60.0)
    assert wanted[0] is NextReading.PANEL
    assert NextReading.LEGS in wanted
    assert NextReading.MORE_CURRENT in wanted
    assert wanted[-1] is NextReading.ACROSS
    assert "guarded" in wanted[-1]


def test_a_conductor_warms_with_the_square_of_its_load() -> None:
    # 45 K at its ampacity, 0 to 1.1 of a quarter of it at half the current: 20 + 6.2 °C; by hand
    temp_c = conductor_temp_c(20.0, 25.0, 50.0)

    assert nominal(temp_c) == pytest.approx(20 + 1.1 * 45 / 4 / 2)
    assert expanded(temp_c) == pytest.approx(2 * ((10**2 + 6.1875**2) / 3) ** 0.5)


def test_a_short_time_under_load_warms_less() -> None:
    at_once, later = (conductor_temp_c(20.0, 40.0, 50.0, minutes) for minutes in (1.0, 30.0))

    assert nominal(at_once) < nominal(later)


def test_the_metal_carries_the_tolerance_of_its_length() -> None:
    exact_ohm = explained_ohm("6 AWG", "copper", 30.0, 20.0)
    rough_ohm = explained_ohm("6 AWG", "copper", 30.0 * ufloat(1.0, 0.10 / 3**0.5), 20.0)

    assert expanded(exact_ohm) / nominal(exact_ohm) == pytest.approx(2 * 0.02 / 3**0.5)
    assert expanded(rough_ohm) > 5 * expanded(exact_ohm)


def test_loops_that_share_no_single_conductor_name_none() -> None:
    assert holder({("line", "neutral"): 0.0, ("line", "ground"): 0.0}, 0.01) == ""
    assert holder({("L1", "ground"): 0.2, ("L2", "ground"): 0.2}, 0.01) == "ground"
    assert holder({("line", "neutral"): 0.2, ("line", "ground"): 0.4}, 0.01) == ""
    rough = ufloat(0.05, 0.04)
    assert holder({("line", "neutral"): rough, ("line", "ground"): 0.0}, 0.01) == ""
    assert loop_excess_ohm(0.5, 0.2, 0.2) == pytest.approx(0.1)


@pytest.mark.parametrize(
    ("power_w", "words"), [(0.5, "a night light"), (20.0, "a bright lamp"), (900.0, "a flat iron")]
)
def test_a_heat_has_words_an_owner_knows(power_w: float, words: str) -> None:
    assert heat_in_words(power_w) == words


def test_parameters_that_readings_do_not_tell_apart_are_refused() -> None:
    with pytest.raises(OutOfRangeError, match="do not tell apart"):
        estimator([[1.0, 2.0], [1.0, 2.0]], [[1.0, 0.0], [0.0, 1.0]])
    with pytest.raises(OutOfRangeError, match="do not tell apart"):
        straight_line([1.0, 1.0], [3.0, 5.0])


def test_an_exact_number_shares_nothing() -> None:
    value = ufloat(1.0, 0.5)

    assert covariance([value, 2.0, 2 * value]) == [[0.25, 0, 0.5], [0, 0, 0], [0.5, 0, 1.0]]
