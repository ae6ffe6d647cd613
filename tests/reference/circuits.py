"""Ratings, power and shares that somebody worked through in print; basis of every row: looked up.

The tolerance is half the last printed digit.
"""

from checks.codes import circuit, receptacle, sizing
from checks.codes.ampacity import Wiring
from checks.codes.dwelling import Service
from checks.electrical import energy, sharing, supply
from tests.reference.case import Case, nec

SUBJECT = "circuits"
LEVEL_3 = "Electrical level 3 practice test 2026, load calculations, branch and feeder circuits"
LEVEL_3_TERMS = "Electrical level 3 questions, module 1, continuous load on a fuse"
DIY = "do-it-yourself forum, the actual math of charger circuits"
DRIVER = "an EV owner's page on circuits and charging power at 208 and 240 V"
OUTPUTS = "page on charger loads, table: connected load at 240 V and circuit by charger output"
GUIDE = "Single-Phase, Three-Phase, and Voltage Systems (exam study guide 3.3)"
PRACTICE = "Journeyman Electrician Exam: Calculation Practice, power formulas"
QUIZ = "Branch Circuit Sizing Challenge, question 9"
SEMINAR = "Commercial Service Calculations Made Easy, step 3"
WYE = "208 V single-phase load on a 120/208 V wye (technical reference)"
LEVELS = "city records, The Four Levels of EV Charging Energy Management, page 5"
CONDUCTORS = "Journeyman Electrician Exam, conductors and ampacity, question 4 (table 310.12)"
CARDS = "Code Calculations part 1 (flash cards), table 210.21(B)(2)"


def _worked(document: str, actual: object, expected: object, tolerance: float = 0.0) -> Case:
    assert callable(actual)
    return Case(SUBJECT, document, actual, expected, tolerance, is_worked=True)


def _needed(load_a: float) -> float:
    return circuit.required_circuit_a(nec(), load_a).value


def _breaker(load_a: float) -> float:
    return circuit.next_standard_a(nec(), _needed(load_a)).value


def _largest(breaker_a: float) -> float:
    return circuit.largest_charger_a(nec(), breaker_a).value


def _power(volts: float, amps: float, kilowatts: float, tolerance: float, document: str) -> Case:
    return _worked(document, lambda: energy.power_kw(volts, amps), kilowatts, tolerance)


def _across(amps: float) -> list[float]:
    found = supply.line_currents_a(supply.WYE_208, {("L1", "L2"): amps})
    return [round(found[line], 9) for line in ("L1", "L2", "L3")]


# charger, 16 to 80 A: connected load at 240 V [kVA], and its 125 % as the next standard breaker [A]
BY_OUTPUT = {
    16: (3.840, 20.0),
    32: (7.680, 40.0),
    40: (9.600, 50.0),
    48: (11.520, 60.0),
    80: (19.200, 100.0),
}

CASES = (
    *(
        case
        for amps, (kilowatts, breaker_a) in BY_OUTPUT.items()
        for case in (
            _power(240, amps, kilowatts, 0.0005, OUTPUTS),
            _worked(OUTPUTS, lambda amps=amps: _breaker(amps), breaker_a),
        )
    ),
    # nine ballasts of 1.5 A: 13.5 A × 1.25 = 16.88 A, 20 A; a dishwasher of 14.7 A: 18.38 A, 20 A
    _worked(LEVEL_3, lambda: _needed(13.5), 16.88, 0.005),
    _worked(LEVEL_3, lambda: _breaker(13.5), 20.0),
    _worked(LEVEL_3, lambda: _needed(14.7), 18.38, 0.005),
    _worked(LEVEL_3, lambda: _breaker(14.7), 20.0),
    # 80 % of 30 A and of 20 A
    _worked(LEVEL_3, lambda: _largest(30), 24.0, 0.5),
    _worked(LEVEL_3_TERMS, lambda: _largest(20), 16.0, 0.5),
    # 20 A at 120 V, at 240 V, and three-phase at 208 V with 1.732 (7 205.12 VA)
    _power(120, 20, 2.400, 0.0005, LEVEL_3),
    _power(240, 20, 4.800, 0.0005, LEVEL_3),
    _worked(LEVEL_3, lambda: energy.power_kw(208, 20, phases=3), 7.205, 0.0005),
    _worked(DIY, lambda: _needed(32), 40.0, 0.5),
    _worked(DIY, lambda: _breaker(32), 40.0),
    _worked(DIY, lambda: _largest(50), 40.0, 0.5),
    _power(240, 32, 7.68, 0.005, DIY),
    # 32 A × 208 V ≈ 6 656 W; the rows that the page rounds (its 6.6 and 5.7 kW are cut)
    _power(208, 32, 6.656, 0.0005, DRIVER),
    _power(208, 80, 16.6, 0.05, DRIVER),
    _power(208, 40, 8.3, 0.05, DRIVER),
    _power(240, 48, 11.5, 0.05, DRIVER),
    _power(208, 16, 3.3, 0.05, DRIVER),
    _power(240, 16, 3.8, 0.05, DRIVER),
    # 30 A × 240 V = 7 200 W; 10 A × 120 V = 1.2 kW; 240 × 200 / 1 000 = 48 kVA
    _power(240, 30, 7.200, 0.0005, "household article on the power of a supply"),
    _power(120, 10, 1.2, 0.05, PRACTICE),
    _power(240, 200, 48, 0.5, "glossary on load calculations, 200 A service"),
    # 12 000 / 240 = 50 A; 1 800 / 120 = 15 A
    _worked(GUIDE, lambda: Service(100.0).amps(12_000), 50, 0.5),
    _worked(GUIDE, lambda: Service(20.0, volts_v=120.0).amps(1_800), 15, 0.5),
    # 16 A × 1.25: a 20 A breaker and 12 AWG
    _worked(QUIZ, lambda: _breaker(16), 20.0),
    _worked(
        QUIZ,
        lambda: sizing.minimum_size(nec(), Wiring("", "copper", "THHN", marked_c=60), 16, 20).size,
        "12 AWG",
    ),
    # 120 V × 20 A × 80 % = 1 920 VA
    _worked(SEMINAR, lambda: energy.power_kw(120, _largest(20)), 1.920, 0.0005),
    # 20 A between two lines flow in both and not in the third
    _worked(WYE, lambda: _across(20), [20.0, 20.0, 0.0]),
    # chargers that share a 40 A circuit: 32 A for one, 16 A for each of two, 8 A for each of four
    _worked(LEVELS, lambda: _largest(40), 32.0, 0.5),
    _worked(LEVELS, lambda: sharing.fair_share_a(32, [32.0] * 2), (16.0, 16.0)),
    _worked(LEVELS, lambda: sharing.fair_share_a(32, [32.0] * 4), (8.0, 8.0, 8.0, 8.0)),
    # 200 A × 0.83 = 166 A, and 2/0 AWG has 175 A
    _worked(CONDUCTORS, lambda: sizing.dwelling_service_size(nec(), 200, "copper").size, "2/0 AWG"),
    # a single 20 A receptacle on 20 A
    _worked(CARDS, lambda: receptacle.plug_load_limit_a(nec(), "5-20", 20).value, 16.0, 0.5),
)
