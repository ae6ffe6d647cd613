"""A dwelling's load by every method, and the room it leaves."""

from dataclasses import replace

from checks.codes import headroom, load
from checks.codes.answer import Outcome
from checks.codes.dwelling import DwellingLoad, Service
from checks.codes.profile import CodeProfile
from checks.codes.worksheet import Worksheet
from tests.reference.case import Case, cec, nec

SUBJECT = "dwelling load"
D1A = "NEC Informative Annex D, example D1(a)"
D2A = "NEC Informative Annex D, example D2(a)"
MEP = "MEP Load Cal, CE Code 8-200 for a house of 2 900 ft², its steps"
STANDARD, OPTIONAL, EXISTING = "standard", "optional", "calculation"
SQUARE_FOOT_M2 = 0.3048**2
ON_100_A = Service(100.0)

# D1(a): 1 500 ft², range 12 kW, dryer 5.5 kW, no other electric load
D1A_HOUSE = DwellingLoad(1_500 * SQUARE_FOOT_M2, 2, 1, (), range_va=12_000, dryer_va=5_500)
# D2(a): five heated rooms of 9 kW in all, cooling of 6 A at 230 V
D2A_HOUSE = DwellingLoad(
    1_500 * SQUARE_FOOT_M2,
    2,
    1,
    (("water heater", 2_500), ("dishwasher", 1_200)),
    heating_va=9_000,
    heating_units=5,
    cooling_va=1_380,
    range_va=12_000,
    dryer_va=5_000,
)
# a house of 1 800 ft² that stands: gas heat, cooling 5 kVA, 12 kW range
STANDING = DwellingLoad(
    1_800 * SQUARE_FOOT_M2,
    2,
    1,
    (("dishwasher", 1_200), ("disposer", 600), ("water heater", 4_500)),
    cooling_va=5_000,
    range_va=12_000,
    dryer_va=5_000,
    is_existing=True,
)
# MEP: 269 m²; AC 6 kW, range 11 kW, hot tub 8 kW, car 7.2 kW, dryer 5 kW, storage heater 4.5 kW
MEP_HOUSE = DwellingLoad(
    269.0,
    0,
    0,
    (("water heater", 4_500),),
    cooling_va=6_000,
    range_va=11_000,
    dryer_va=5_000,
    heated_water_va=8_000,
    charger_va=7_200,
)
# ground floor 100 m², basement 80 m² at 2.3 m; range 12 kW, gas heat
CANADIAN = DwellingLoad(
    100.0,
    0,
    0,
    (("water heater", 4_500),),
    cooling_va=3_000,
    range_va=12_000,
    dryer_va=5_000,
    basement_area_m2=80.0,
)
GAS_KITCHEN = replace(
    CANADIAN,
    range_va=0.0,
    dryer_va=0.0,
    nameplates_va=(("water heater", 4_500), ("pump", 1_800), ("heater", 2_000)),
)


def _sheets(code: CodeProfile, title: str, dwelling: DwellingLoad) -> tuple[Worksheet, ...]:
    method = next(each for each in code.load.methods if each.title.startswith(title))
    return method.readings(dwelling)


def _total(code: CodeProfile, title: str, dwelling: DwellingLoad, reading: int = 0) -> float:
    return _sheets(code, title, dwelling)[reading].total_va


def _ce_total(dwelling: DwellingLoad) -> float:
    return _total(cec(), EXISTING, dwelling)


def _with(dwelling: DwellingLoad, charger_va: float, **more: object) -> DwellingLoad:
    return replace(dwelling, charger_va=charger_va, **more)  # type: ignore[arg-type]


def _hand(clause: str, actual: object, expected: float, tolerance: float = 0.5) -> Case:
    assert callable(actual)
    return Case(SUBJECT, f"{clause}, by hand", actual, expected, tolerance)


def _worked(document: str, actual: object, expected: float) -> Case:
    assert callable(actual)
    return Case(SUBJECT, document, actual, expected, 0.5, is_worked=True)


def _ruling(code: CodeProfile, dwelling: DwellingLoad) -> Outcome:
    return headroom.dwelling_room(code, dwelling, ON_100_A).ruling.outcome


CASES = (
    # D1(a): 9 000 VA general counts 5 100; range 8 000; dryer 5 500: 18 600 VA, 77.5 A
    _worked(D1A, lambda: _total(nec(), STANDARD, D1A_HOUSE), 18_600),
    _worked(
        f"{D1A}: lighting and circuits count 5 100 VA",
        lambda: _sheets(nec(), STANDARD, D1A_HOUSE)[0].lines[0].counted_va,
        5_100,
    ),
    _worked(
        f"{D1A}: range 8 000 VA",
        lambda: _sheets(nec(), STANDARD, D1A_HOUSE)[0].lines[1].counted_va,
        8_000,
    ),
    Case(
        SUBJECT,
        f"{D1A}: first 3 000 VA at 100 %, the rest of 9 000 VA at 35 %",
        lambda: _sheets(nec(), STANDARD, D1A_HOUSE)[0].lines[0].why,
        "3000 VA × 1 + 6000 VA × 0.35",
        is_worked=True,
    ),
    # 29 700 VA in all
    Case(
        SUBJECT,
        f"{D2A}: first 10 kVA at 100 %, the remainder at 40 %",
        lambda: any(
            line.why == "10000 VA × 1 + 19700 VA × 0.4"
            for line in _sheets(nec(), OPTIONAL, D2A_HOUSE)[0].lines
        ),
        True,
        is_worked=True,
    ),
    _hand(f"{D1A}: 77.5 A", lambda: ON_100_A.amps(_total(nec(), STANDARD, D1A_HOUSE)), 77.5, 0.05),
    # the same house with a charger: 24 A counts 7 200 VA, 32 A its 7 680 VA
    _hand("NEC 2023 220.57", lambda: _total(nec(), STANDARD, _with(D1A_HOUSE, 5_760)), 25_800),
    _hand("NEC 2023 220.57", lambda: _total(nec(), STANDARD, _with(D1A_HOUSE, 7_680)), 26_280),
    _hand("NEC 2023 220.57", lambda: _total(nec(), STANDARD, _with(D1A_HOUSE, 11_520)), 30_120),
    # a range of 14.6 kW: 3 steps of 5 % of 8 kVA; a dryer of 4 kW counts 5 kVA
    _hand(
        "NEC 2023 table 220.55 note 1",
        lambda: _total(nec(), STANDARD, replace(D1A_HOUSE, range_va=14_600)) - 10_600,
        9_200,
    ),
    _hand(
        "NEC 2023 220.54",
        lambda: _total(nec(), STANDARD, replace(D1A_HOUSE, dryer_va=4_000)) - 13_100,
        5_000,
    ),
    # four fastened appliances of 10 kVA in all count 7.5 kVA; three count in full
    _hand(
        "NEC 2023 220.53",
        lambda: (
            _total(
                nec(),
                STANDARD,
                replace(
                    D1A_HOUSE,
                    nameplates_va=(("a", 4_000), ("b", 3_000), ("c", 2_000), ("d", 1_000)),
                ),
            )
            - 18_600
        ),
        7_500,
    ),
    # D2(a) with chargers by the optional method, cautious and by nameplate
    _hand("NEC 2023 220.82", lambda: _total(nec(), OPTIONAL, D2A_HOUSE), 21_480),
    _hand("NEC 2023 220.82", lambda: _total(nec(), OPTIONAL, _with(D2A_HOUSE, 5_760)), 24_360),
    _hand("NEC 2023 220.82", lambda: _total(nec(), OPTIONAL, _with(D2A_HOUSE, 5_760), -1), 23_784),
    _hand("NEC 2023 220.82", lambda: _total(nec(), OPTIONAL, _with(D2A_HOUSE, 11_520)), 26_088),
    # the house that stands: existing cooling in full, or inside the sum
    _hand("NEC 2023 220.83", lambda: _total(nec(), EXISTING, STANDING), 23_080),
    _hand("NEC 2023 220.83", lambda: _total(nec(), EXISTING, STANDING, -1), 20_080),
    _hand("NEC 2023 220.83", lambda: _total(nec(), EXISTING, _with(STANDING, 7_680)), 26_152),
    _hand("NEC 2023 220.83", lambda: _total(nec(), EXISTING, _with(STANDING, 7_680), -1), 23_152),
    _hand("NEC 2023 220.83", lambda: _total(nec(), EXISTING, _with(STANDING, 11_520)), 27_688),
    Case(
        SUBJECT,
        "NEC 2023 220.83(B), by hand: new cooling is read one way",
        lambda: [
            round(sheet.total_va)
            for sheet in _sheets(nec(), EXISTING, replace(STANDING, adds_climate=True))
        ],
        [23_080],
    ),
    # 24 A on 100 A fits by nameplate only, 32 A by no reading
    Case(
        SUBJECT,
        "NEC 2023 220.82 with 220.57, by hand: 99.1 A or 101.5 A",
        lambda: _ruling(nec(), _with(D2A_HOUSE, 5_760)),
        Outcome.READ_TWO_WAYS,
    ),
    Case(
        SUBJECT,
        "NEC 2023 220.82, by hand: 102.3 A",
        lambda: _ruling(nec(), _with(D2A_HOUSE, 7_680)),
        Outcome.NO,
    ),
    Case(
        SUBJECT,
        "NEC 2023 220.82, by hand: 89.5 A",
        lambda: _ruling(nec(), D2A_HOUSE),
        Outcome.YES,
    ),
    # 24 000 VA less the 21 480 VA of D2(a) leaves 2 520 VA at 40 %: 6 300 VA, 26.25 A
    _hand(
        "NEC 2023 220.82",
        lambda: headroom.largest_charger_in_dwelling_a(nec(), D2A_HOUSE, ON_100_A)[0].value,
        26.25,
        0.001,
    ),
    _hand(
        "NEC 2023 220.57: 7 200 VA exceed the 6 300 VA of room",
        lambda: headroom.largest_charger_in_dwelling_a(nec(), D2A_HOUSE, ON_100_A)[1].value,
        0.0,
        0.001,
    ),
    # under load management what it allows counts
    _hand(
        "NEC 2023 625.42(A)",
        lambda: headroom.relief(nec(), _with(D2A_HOUSE, 11_520), ON_100_A).charger_limit_a.value,
        26.25,
        0.001,
    ),
    _hand(
        "NEC 2023 220.70",
        lambda: headroom.relief(nec(), D2A_HOUSE, ON_100_A).service_setpoint_a.value,
        80.0,
        0.001,
    ),
    Case(
        SUBJECT,
        "NEC 2023 220.70, by hand: 80 A and 90 A on 100 A",
        lambda: [load.managed_service(nec(), 100, amps).outcome for amps in (80, 90)],
        [Outcome.YES, Outcome.NO],
    ),
    Case(
        SUBJECT,
        "NEC 2023 220.87 exception: 30 days, not with generation",
        lambda: [
            load.record_allowed(nec(), days, is_generating=sun).outcome
            for days, sun in ((30, False), (30, True), (29, False), (365, True))
        ],
        [Outcome.YES, Outcome.NO, Outcome.NO, Outcome.YES],
    ),
    # CE Code: the printed steps of a worked house add up to 36 575 W (its headline does not)
    _worked(MEP, lambda: _ce_total(MEP_HOUSE), 36_575),
    _worked(
        f"{MEP}: basic load 7 000 W",
        lambda: _sheets(cec(), EXISTING, MEP_HOUSE)[0].lines[0].counted_va,
        7_000,
    ),
    _worked(
        f"{MEP}: dryer and water heater 2 375 W",
        lambda: _sheets(cec(), EXISTING, MEP_HOUSE)[0].lines[4].counted_va,
        2_375,
    ),
    # ground floor 100 m² and 75 % of a basement of 80 m²; the least is 24 000 W
    _hand(
        "CE Code 2021 8-200 1) a)",
        lambda: sum(line.counted_va for line in _sheets(cec(), EXISTING, CANADIAN)[0].lines),
        17_375,
    ),
    _hand("CE Code 2021 8-200 1) b)", lambda: _ce_total(CANADIAN), 24_000),
    _hand("CE Code 2021 8-200", lambda: _ce_total(_with(CANADIAN, 5_760)), 24_000),
    _hand("CE Code 2021 8-200", lambda: _ce_total(_with(CANADIAN, 7_200)), 24_575),
    _hand("CE Code 2021 8-200", lambda: _ce_total(_with(CANADIAN, 7_680)), 25_055),
    _hand("CE Code 2021 8-200", lambda: _ce_total(_with(CANADIAN, 11_520)), 28_895),
    _hand(
        "CE Code 2021 8-106 11)",
        lambda: _ce_total(_with(CANADIAN, 11_520, managed_va=11_520.0, is_service_watched=True)),
        24_000,
    ),
    # 8-106 10): without watching the service what it allows counts
    _hand(
        "CE Code 2021 8-106 10)",
        lambda: _ce_total(_with(CANADIAN, 11_520, managed_va=7_200.0)),
        24_575,
    ),
    # no range: 6 000 W and 25 % of 2 300 W; 90 m² part counts as a whole: 18 m² basement at 75 %
    _hand(
        "CE Code 2021 8-200 1) a) vii)",
        lambda: _sheets(cec(), EXISTING, GAS_KITCHEN)[0].lines[-1].counted_va,
        6_575,
    ),
    _hand("CE Code 2021 8-200", lambda: _ce_total(_with(GAS_KITCHEN, 7_680)), 24_000),
    # a range of 15 kW: 6 000 W and 40 % of 3 kW
    _hand(
        "CE Code 2021 8-200 1) a) iv)",
        lambda: _sheets(cec(), EXISTING, replace(CANADIAN, range_va=15_000))[0].lines[2].counted_va,
        7_200,
    ),
    # basement of 100 m² counts 75: with 100 m² above two further parts of 90 m² either way; 120 m²
    # count 90, which is one step less than in full
    _hand(
        "CE Code 2021 8-110",
        lambda: (
            _sheets(cec(), EXISTING, replace(CANADIAN, floor_area_m2=90, basement_area_m2=120))[0]
            .lines[0]
            .counted_va
        ),
        6_000,
    ),
    Case(
        SUBJECT,
        "CE Code 2021 8-106 8), by hand: 9.6 kW and 32 A or 48 A on 100 A",
        lambda: [
            load.measured_demand(cec(), 100, 40, amps).ruling.outcome for amps in (32, 40, 48)
        ],
        [Outcome.YES, Outcome.YES, Outcome.NO],
    ),
    Case(
        SUBJECT,
        "CE Code 2021 8-106 8), by hand: room of 80 A less 40 A",
        lambda: [each.value for each in load.largest_charger_that_fits_a(cec(), 100, 40)],
        [40.0],
    ),
)
