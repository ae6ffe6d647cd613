"""The readings of the invented service calls, held against Ohm's law and the tables.

Metal: NEC 2023 chapter 9 table 8, direct-current resistance of uncoated copper at 75 °C, note 2 for
other temperatures (from memory). Duty cycle: SAE J1772, 0.6 A a per cent between 10 and 85 %.
"""

import pytest

from fieldapp import demo

# Ω/km at 75 °C, and per kelvin about it.
TABLE_8 = {"10 AWG": 3.984, "8 AWG": 2.551, "6 AWG": 1.608}
TABLE_8_COLD = {"10 AWG": 3.26}  # Ω/km at 20 °C, as a meter reads it: 1.24 Ω/kft solid at 75 °C
NOTE_2 = 0.00323
CALLS = ("westwall", "workshop", "creekside")
COUNTS_V = 0.2  # two readings of 0.1 V steps


def number(said: str) -> float:
    return float(said.split()[0])


def looks(told: dict, check: str) -> list[dict]:
    """Every time a check is made, before and after mending."""
    found = told["checks"].get(check, [])
    after = told["after_mending"].get(check)
    return [*(found if isinstance(found, list) else [found]), *([after] if after else [])]


@pytest.mark.parametrize("name", CALLS)
def test_the_volts_that_are_lost_are_those_of_the_metal(name: str) -> None:
    """V = I · 2 l · r, warm by 0 to 25 K over the air of the run, with contacts of 0 to 3 mΩ."""
    told = demo.scenario(name)
    for load in looks(told, "outlet.loaded_voltage"):
        run, length = told["checks"]["run.conductor"], told["checks"]["run.length"]
        amps = number(load["current"])
        air_c = number(run["ambient"])
        ohm_m = TABLE_8[run["size"]] / 1000
        low, high = (
            amps * (2 * number(length["length"]) * ohm_m * (1 + NOTE_2 * (c - 75)) + contacts)
            for c, contacts in ((air_c, 0.0), (air_c + 25, 0.003))
        )
        start_v = number(load["panel_no_load"]) - number(load["outlet_no_load"])
        lost_v = number(load["panel_loaded"]) - number(load["outlet_loaded"]) - start_v
        assert low - COUNTS_V <= lost_v <= high + COUNTS_V
        assert number(load["panel_loaded"]) < number(load["panel_no_load"])


@pytest.mark.parametrize("name", CALLS)
def test_the_grounding_conductor_reads_what_its_metal_has(name: str) -> None:
    checks = demo.scenario(name)["checks"]
    metal = number(checks["run.length"]["length"]) * TABLE_8_COLD["10 AWG"] / 1000
    assert checks["run.grounding_conductor"]["size"] == "10 AWG"
    read = number(checks["run.protective_conductor"]["ohm"])
    assert metal - 0.01 <= read <= metal + 0.02, "a step of the meter, and two joints"


@pytest.mark.parametrize("name", CALLS)
def test_two_legs_make_the_volts_between_lines(name: str) -> None:
    for read in looks(demo.scenario(name), "outlet.no_load_voltage"):
        legs_v = number(read["l1_ground"]) + number(read["l2_ground"])
        assert legs_v == pytest.approx(number(read["line_line"]), abs=COUNTS_V)


def test_a_worn_breaker_is_warmer_than_its_neighbor_and_more_so_after_half_an_hour() -> None:
    """Heat of a part approaches its end by its time constant: the first look is too early."""
    early, settled, mended = looks(demo.scenario("westwall"), "breaker.temperature")
    over_k = [number(r["face"]) - number(r["neighbor"]) for r in (early, settled, mended)]
    assert over_k[1] > 3.0 > max(over_k[0], over_k[2]), "NETA ATS table 100.18, over a like part"
    assert over_k[1] < 15.0
    for read in (early, settled, mended):
        assert number(read["air"]) < number(read["neighbor"]) < number(read["face"])


def test_a_breaker_that_holds_less_than_its_rating_trips_on_hot_afternoons_only() -> None:
    """What a thermal breaker holds falls as √((125 - T)/85) (one maker's table, fitted); worn to
    0.83 of its rating at 40 °C it holds 32 A on 40 A in the morning, not behind a hot wall."""
    checks = demo.scenario("westwall")["checks"]
    ratio = number(checks["charger.configuration"]["configured_a"]) / number(
        checks["breaker.rating"]["rated_a"]
    )
    inside_c = {"morning": 28.0, "afternoon": 50.0}
    holds = {when: 0.83 * ((125 - c) / 85) ** 0.5 for when, c in inside_c.items()}
    assert holds["afternoon"] < ratio < holds["morning"]


def test_the_offer_is_what_the_limit_leaves_beside_the_house() -> None:
    """40.1 % offers 24 A; with 56 A of house and pumps that is the limit of 80 A, within 1 A."""
    told = demo.scenario("creekside")
    full, less, mended = (number(r["duty"]) * 0.6 for r in looks(told, "charger.offered_current"))
    limits = [number(r["managed_a"]) for r in looks(told, "service.load")]
    assert full == mended == number(told["checks"]["charger.configuration"]["configured_a"])
    assert less == pytest.approx(full / 2, abs=0.2), "half power"
    house_a = limits[0] - less
    assert limits[1] - house_a >= full, "with the corrected limit there is room for all of it"
    main_a = number(told["checks"]["service.rating"]["main_a"])
    assert limits[1] <= 0.8 * main_a, "what the main carries for hours"
    setting, held = (
        told["after_mending"][f"service.{c}"] for c in ("management", "management_limit")
    )
    assert number(setting["set_a"]) == limits[1], "what was raised is what was read afterward"
    assert number(setting["device_a"]) == main_a
    assert number(held["drawn"]) == pytest.approx(house_a + full, abs=1.0)
    assert number(held["drawn"]) <= limits[1], "and it is held"
