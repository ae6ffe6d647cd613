"""Room in the panel."""

from checks.codes import load
from checks.codes.answer import Outcome
from checks.codes.dwelling import DwellingLoad, Service
from checks.codes.headroom import dwelling_room
from checks.codes.worksheet import Worksheet
from tests.reference.case import Case, nec

SUBJECT = "load"
D2A = "NEC Informative Annex D, example D2(a)"
D2B = "NEC Informative Annex D, example D2(b)"
D2C = "NEC Informative Annex D, example D2(c)"
FORUM = "trade forum, help with service calculation, worked by the optional method"
HAND = "NEC 2023 220.87, by hand"
SQUARE_FOOT_M2 = 0.3048**2


def _house(charger_va: float = 0.0, heating_va: float = 9_000.0) -> DwellingLoad:
    return DwellingLoad(
        floor_area_m2=1_500 * SQUARE_FOOT_M2,
        appliance_circuits=2,
        laundry_circuits=1,
        nameplates_va=(
            ("range", 12_000),
            ("water heater", 2_500),
            ("dishwasher", 1_200),
            ("dryer", 5_000),
        ),
        heating_va=heating_va,
        heating_units=5,
        cooling_va=1_380,
        charger_va=charger_va,
    )


def _larger_house(*nameplates: tuple[str, float], area_ft2: float, **others: float) -> DwellingLoad:
    return DwellingLoad(
        floor_area_m2=area_ft2 * SQUARE_FOOT_M2,
        appliance_circuits=2,
        laundry_circuits=1,
        nameplates_va=nameplates,
        heating_va=others.get("heating_va", 0.0),
        heating_units=int(others.get("heating_units", 0)),
        cooling_va=others.get("cooling_va", 0.0),
        heat_pump_va=others.get("heat_pump_va", 0.0),
    )


# two ovens, cooking unit, water heater, dishwasher, washer and dryer; six air conditioners of 7 A
D2B_HOUSE = _larger_house(
    ("ovens", 8_000),
    ("cooking unit", 5_100),
    ("water heater", 4_500),
    ("dishwasher", 1_200),
    ("washer and dryer", 5_000),
    area_ft2=1_500,
    heating_va=1_500,
    heating_units=1,
    cooling_va=10_080,
)
# range, water heater, dishwasher, dryer; heat pump 5 760 VA, 15 kW of supplementary heat at 65 %
D2C_APPLIANCES = (
    ("range", 12_000.0),
    ("water heater", 4_500.0),
    ("dishwasher", 1_200.0),
    ("dryer", 5_000.0),
)
FORUM_HOUSE = _larger_house(
    ("double oven", 9_600),
    ("water heater", 2_500),
    ("dryer", 5_000),
    ("dishwasher", 1_200),
    ("disposal", 600),
    area_ft2=2_680,
    heating_va=25_000,
    heating_units=4,
)
FORUM_HOUSE_CORRECTED = _larger_house(
    ("double oven", 9_600),
    ("water heater", 4_500),
    ("dryer", 5_000),
    ("dishwasher", 1_200),
    ("disposal", 600),
    ("well", 2_400),
    ("cooktop", 4_500),
    ("vacuum systems", 9_000),
    area_ft2=2_680,
    heating_va=25_000,
    heating_units=1,
)


def _sheet(house: DwellingLoad) -> Worksheet:
    results = dwelling_room(nec(), house, Service(200.0)).results
    return next(each for each in results if each.title == "optional calculation").cautious


def _total(house: DwellingLoad) -> float:
    return _sheet(house).total_va


def _outcome(rating_a: float, demand_a: float, new_a: float) -> Outcome:
    return load.measured_demand(nec(), rating_a, demand_a, new_a).ruling.outcome


def _totals(rating_a: float, demand_a: float, new_a: float) -> tuple[float, ...]:
    return load.measured_demand(nec(), rating_a, demand_a, new_a).totals_a


CASES = (
    # 29 700 VA general counts 17 880; heat 3 600 exceeds cooling 1 380: 21 480 VA
    Case(SUBJECT, D2A, lambda: _total(_house()), 21_480, 0.5, is_worked=True),
    Case(
        SUBJECT,
        f"{D2A}: 90 A (from memory)",
        lambda: _total(_house()) / 240,
        90,
        0.5 + 1e-6,
    ),
    Case(
        SUBJECT,
        f"{D2A}: the general load counts 17 880 VA",
        lambda: _total(_house(heating_va=0)) - 1_380,
        17_880,
        0.5,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        f"{D2A}: general load 29 700 VA, in the working",
        lambda: any("general load: 29700 VA" in line for line in _sheet(_house()).working),
        True,
        is_worked=True,
    ),
    Case(SUBJECT, D2B, lambda: _total(D2B_HOUSE), 29_200, 0.5, is_worked=True),
    Case(
        SUBJECT,
        f"{D2B}: the general load counts 19 120 VA",
        lambda: _total(D2B_HOUSE) - 10_080,
        19_120,
        0.5,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        f"{D2C}: the general load counts 19 280 VA",
        lambda: _total(_larger_house(*D2C_APPLIANCES, area_ft2=2_000)),
        19_280,
        0.5,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        f"{D2C}: 34 790 VA",
        lambda: _total(
            _larger_house(*D2C_APPLIANCES, area_ft2=2_000, heating_va=15_000, heat_pump_va=5_760)
        ),
        34_790,
        0.5,
        is_worked=True,
    ),
    # a house of 2 680 ft²: 28 576 VA with heat at 40 %; corrected, 41 986 VA with heat at 65 %
    Case(SUBJECT, FORUM, lambda: _total(FORUM_HOUSE), 28_576, 0.5, is_worked=True),
    Case(SUBJECT, FORUM, lambda: _total(FORUM_HOUSE) / 240, 119, 0.5, is_worked=True),
    Case(SUBJECT, FORUM, lambda: _total(FORUM_HOUSE_CORRECTED), 41_986, 0.5, is_worked=True),
    Case(SUBJECT, FORUM, lambda: _total(FORUM_HOUSE_CORRECTED) / 240, 175, 0.5, is_worked=True),
    # the house of D2(a) with a charger, by hand: 7 680 VA at 40 %; 5 760 VA counts 7 200 (220.57)
    Case(SUBJECT, "NEC 2023 220.82, by hand", lambda: _total(_house(7_680)), 24_552, 0.5),
    Case(SUBJECT, "NEC 2023 220.57, by hand", lambda: _total(_house(5_760)), 24_360, 0.5),
    # 100 A service, 40 A demand: 50 A of room
    Case(SUBJECT, HAND, lambda: load.headroom_a(nec(), 100, 40).value, 50.0, 0.05),
    Case(SUBJECT, HAND, lambda: load.headroom_a(nec(), 200, 115).value, 56.25, 0.005),
    Case(SUBJECT, HAND, lambda: _totals(100, 40, 48), (98.0, 110.0)),
    Case(SUBJECT, HAND, lambda: _outcome(100, 40, 40), Outcome.YES),
    Case(SUBJECT, HAND, lambda: _outcome(100, 40, 48), Outcome.READ_TWO_WAYS),
    Case(SUBJECT, HAND, lambda: _outcome(200, 115, 80), Outcome.NO),
    Case(
        SUBJECT,
        HAND,
        lambda: tuple(each.value for each in load.largest_charger_that_fits_a(nec(), 100, 40)),
        (50.0, 40.0),
    ),
)
