"""What everybody in the trade knows: common practice, no source, unless a clause is named."""

import pytest

from checks.codes import load
from checks.codes.answer import Outcome
from checks.electrical import energy
from checks.verdict import Verdict
from tests.reference.case import nec
from tests.sound_visits import Entries, built, verdicts

ON_15_A: Entries = {"breaker.rating": {"rated_a": "15 A"}, "outlet.configuration": {"kind": "5-15"}}


@pytest.mark.parametrize("shown", ["1.2 kW", "1.25 kW", "1.3 kW"])
@pytest.mark.parametrize(("volts", "amps"), [("120.0 V", "12.0 A"), ("118.6 V", "11.8 A")])
def test_1_2_to_1_3_kw_on_the_display_of_a_12_a_unit_is_plausible(
    shown: str, volts: str, amps: str
) -> None:
    made = built(
        "level 1",
        {
            "outlet.loaded_voltage": {"outlet_loaded": volts, "current": amps},
            "vehicle.power": {"displayed": shown},
        },
    )

    assert verdicts(made)["vehicle.power"] is Verdict.WITHIN


def test_half_of_it_is_not() -> None:
    made = built("level 1", {"vehicle.power": {"displayed": "0.7 kW"}})

    assert verdicts(made)["vehicle.power"] is Verdict.OUTSIDE


def test_13_a_all_night_is_outside_on_15_a_and_12_a_is_not() -> None:
    # NEC 2023 625.42: 125 % of the charger's current, 16.25 A and 15 A
    thirteen: Entries = {
        **ON_15_A,
        "charger.nameplate": {"rated_a": "16 A"},
        "charger.configuration": {"configured_a": "13 A"},
        "charger.offered_current": {"duty": "21.7 %"},  # 13 / 0.6; SAE J1772
    }

    assert verdicts(built("level 1", ON_15_A))["breaker.rating"] is Verdict.WITHIN
    assert verdicts(built("level 1", thirteen))["breaker.rating"] is Verdict.OUTSIDE
    assert verdicts(built("level 1", thirteen))["charger.configuration"] is Verdict.OUTSIDE


def test_a_30_a_unit_at_208_v_gives_about_6_2_to_6_3_kw() -> None:
    assert 6.2 <= energy.power_kw(208, 30) <= 6.3


@pytest.mark.parametrize(("kilowatts", "km_in_an_hour"), [(1.3, 7), (6.1, 40)])
def test_7_km_at_level_1_and_40_km_at_level_2_are_both_plausible_though_they_do_not_scale(
    kilowatts: float, km_in_an_hour: float
) -> None:
    low, high = energy.plausible_range_per_hour_km(kilowatts)

    assert low <= km_in_an_hour <= high


@pytest.mark.parametrize(
    ("demand_a", "verdict"),
    # 1.25 × demand + 40 A, or 1.25 × both; NEC 2023 220.87, by hand: 90 and 100 A, 102.5 and
    # 112.5, 115 and 125
    [("40 A", Verdict.WITHIN), ("50 A", Verdict.OUTSIDE), ("60 A", Verdict.OUTSIDE)],
)
def test_on_a_100_a_service_the_calculation_decides(demand_a: str, verdict: Verdict) -> None:
    made = built(
        "receptacle",
        {
            "service.rating": {"service_a": "100 A", "main_a": "100 A"},
            "service.load": {"demand_a": demand_a},
            "panel.rating": {"bus_a": "100 A", "main_a": "100 A"},
        },
    )

    assert verdicts(made)["service.load"] is verdict


def test_no_size_of_charger_is_ruled_out_on_100_a_by_its_name() -> None:
    # 80 A, the largest that SAE J1772 offers, is 100 A at 125 %; 70 and 6 A are 95 A, 75 and 16 A
    # at least 109.75 A: 220.87, by hand
    assert load.measured_demand(nec(), 100, 0, 80).ruling.outcome is Outcome.YES
    assert load.measured_demand(nec(), 100, 70, 6).ruling.outcome is Outcome.YES
    assert load.measured_demand(nec(), 100, 75, 16).ruling.outcome is Outcome.NO
