"""Voltage drop and supply voltage."""

from checks.codes import circuit
from checks.electrical import conductor, drop, heating, hidden_resistance
from checks.electrical.load_fit import load_line
from checks.electrical.load_line import Between, Circuit, LoadLine, LoadReading, Place
from checks.quantity import nominal
from checks.verdict import Force
from tests.reference.case import Case, feet, nec

SUBJECT = "voltage drop"
LESSON = "Voltage Drop & Ohm's Law, license lesson"
EXAM = "Voltage Drop Practice for the California Electrician Exam"
QUESTIONS = "Voltage Drop Calculations, NEC code questions"
TRAINING = "training page, voltage drop = 2 × circuit length × current × ohms"
SIZING = "Wire Sizing and Voltage Drop: AWG resistance per 1000 ft"
ECM = "EC&M, The Basics of Calculating Voltage Drop"
PERCENT = "Journeyman Electrician Exam, voltage drop practice questions"
QUIZ = "Voltage drop calculation questions on NEC electrical exams, step 2"
SOLVED = "homework solution, 20 A over 100 ft of 12 AWG with K = 12"
GUIDE = "Understanding EV Charger Voltage Drop, guide for 120 V circuits"
PAGE = "electrician's page on voltage drop, quick example: 44 A at 240 V, 160 ft of 6 AWG, table 8"
HAND = "NEC 2023 chapter 9 table 8, by hand"
K_COPPER = 12.9  # ohm-circular mils per foot, as the lessons print it


def _load_test(current_a: float, *, outlet_v: float, panel_v: float | None = None) -> LoadLine:
    """The fit of a test that loses these volts before the outlet, and before the panel."""
    lost = {Place.OUTLET: outlet_v} | ({} if panel_v is None else {Place.PANEL: panel_v})
    return load_line(
        Circuit.SPLIT,
        [
            LoadReading(place, Between.BOTH, 0.0, 243.1 - volts, amps)
            for place, all_v in lost.items()
            for volts, amps in ((0.0, 0.0), (all_v, current_a))
        ],
    )


def _by_k(current_a: float, length_ft: float, size: str) -> float:
    area = nec().conductors.area_cmil.value[size]
    return drop.drop_v(current_a, K_COPPER * length_ft / area)


def _cold(current_a: float, length_ft: float, size: str) -> float:
    """A solid copper run at 20 °C, from gauge and conductivity alone."""
    return drop.drop_v(
        current_a,
        conductor.resistance_ohm(size, "copper", feet(length_ft), 20.0, is_stranded=False),
    )


def _run_ohm(size: str, length_ft: float) -> float:
    return circuit.design_resistance_ohm(nec(), size, "copper", feet(length_ft)).resistance_ohm


def _by_table_8(current_a: float, length_ft: float, size: str) -> float:
    return drop.drop_v(current_a, _run_ohm(size, length_ft))


def _worked(document: str, actual: object, expected: float, tolerance: float) -> Case:
    assert callable(actual)
    return Case(SUBJECT, document, actual, expected, tolerance, is_worked=True)


def _pct(volts: float, nominal_v: float) -> float:
    return drop.percent_of_nominal(volts, nominal_v)


def _band(nominal_v: int) -> tuple[float, float]:
    found = circuit.supply_band(nec(), nominal_v).value
    return found.low_v, found.high_v


CASES = (
    # 120 V, 20 A, 100 ft, 12 AWG (6 530 circular mils), K 12.9: 7.9 V, 6.6 %
    _worked(LESSON, lambda: _by_k(20, 100, "12 AWG"), 7.9, 0.05),
    _worked(LESSON, lambda: _pct(_by_k(20, 100, "12 AWG"), 120), 6.6, 0.05),
    # same with 8 AWG (16 510): 3.1 V, 2.6 %
    _worked(LESSON, lambda: _by_k(20, 100, "8 AWG"), 3.1, 0.05),
    _worked(LESSON, lambda: _pct(_by_k(20, 100, "8 AWG"), 120), 2.6, 0.05),
    # 0.491 Ω/kFT × 320 ft = 0.157 Ω; 6.9 V; 2.9 %; 233.1 V are left
    _worked(PAGE, lambda: _by_table_8(1, 160, "6 AWG"), 0.157, 0.0005),
    _worked(PAGE, lambda: _by_table_8(44, 160, "6 AWG"), 6.9, 0.05),
    _worked(PAGE, lambda: _pct(_by_table_8(44, 160, "6 AWG"), 240), 2.9, 0.05),
    _worked(PAGE, lambda: 240 - _by_table_8(44, 160, "6 AWG"), 233.1, 0.05),
    # 120 V, 16 A, 70 ft, 12 AWG: 4.43 V, 3.69 % (the percentage from the rounded volts)
    _worked(EXAM, lambda: _by_k(16, 70, "12 AWG"), 4.43, 0.005),
    _worked(EXAM, lambda: _pct(4.43, 120), 3.69, 0.005),
    # 16 A, 50 ft, 10 AWG, 1.2 Ω/1000 ft: 1.92 V; 8 A, 100 ft, 12 AWG, 2.0: 3.2 V
    _worked(QUESTIONS, lambda: drop.drop_v(16, 1.2 * 50 / 1000), 1.92, 0.005),
    _worked(QUESTIONS, lambda: drop.drop_v(8, 2.0 * 100 / 1000), 3.2, 0.05),
    # 24 V, 4 A, 100 ft at 4.99 Ω/1000 ft: 4.0 V; the printed 16.7 % is of the rounded volts
    _worked(TRAINING, lambda: drop.drop_v(4, 0.499), 4.0, 0.05),
    _worked(TRAINING, lambda: _pct(4.0, 24), 16.7, 0.05),
    # 20 A, 100 ft, 12 AWG, 1.98 Ω/1000 ft: 7.92 V, 3.3 % of 240 V
    _worked(SIZING, lambda: _by_table_8(20, 100, "12 AWG"), 7.92, 0.005),
    _worked(SIZING, lambda: _pct(_by_table_8(20, 100, "12 AWG"), 240), 3.3, 0.05),
    # three-phase 480 V, 20 A, 200 ft, 1.1 Ω/1000 ft: the text shows 7 620.8 / 1000 (and then
    # rounds it wrongly to 7.7)
    _worked(ECM, lambda: drop.drop_v(20, 0.22, phases=3), 7.6208, 0.0005),
    # 5 % of 240 V is 12 V
    _worked(QUESTIONS, lambda: _pct(12, 240), 5.0, 0.05),
    # 240 V, 24 A, 150 ft, 10 AWG: 8.95 V, 3.73 % (the percentage from the rounded volts)
    _worked(EXAM, lambda: _by_k(24, 150, "10 AWG"), 8.95, 0.005),
    _worked(EXAM, lambda: _pct(8.95, 240), 3.73, 0.005),
    # 18 kVA at 208 V, three-phase, 50 A, 100 ft of 2 AWG: the page cuts 1.683 V to 1.68
    _worked(
        QUESTIONS,
        lambda: drop.drop_v(
            50, K_COPPER * 100 / nec().conductors.area_cmil.value["2 AWG"], phases=3
        ),
        1.68,
        0.005,
    ),
    # 6 V leave 114 V of 120 V: 5 %; 10 V of 240 V; 7.2 V of 240 V
    _worked(QUESTIONS, lambda: _pct(6, 120), 5.0, 0.05),
    _worked(PERCENT, lambda: _pct(10, 240), 4.2, 0.05),
    _worked(QUIZ, lambda: _pct(7.2, 240), 3.0, 0.05),
    # 2 × 12 × 20 × 100 / 6 530 = 7.35 V, and 6.125 % of 120 V from the rounded volts
    _worked(
        SOLVED,
        lambda: drop.drop_v(20, 12 * 100 / nec().conductors.area_cmil.value["12 AWG"]),
        7.35,
        0.005,
    ),
    _worked(SOLVED, lambda: _pct(7.35, 120), 6.125, 0.0005),
    # 12 A over 14 AWG and 16 A over 12 AWG; the figures are those of solid copper at 20 °C
    # (its 1.51 V for 25 ft of 14 AWG is cut, not rounded, and left out)
    _worked(GUIDE, lambda: _cold(12, 50, "14 AWG"), 3.03, 0.005),
    _worked(GUIDE, lambda: _pct(_cold(12, 50, "14 AWG"), 120), 2.5, 0.05),
    _worked(GUIDE, lambda: _cold(16, 25, "12 AWG"), 1.27, 0.005),
    _worked(GUIDE, lambda: _pct(_cold(16, 25, "12 AWG"), 120), 1.1, 0.05),
    _worked(GUIDE, lambda: _cold(16, 50, "12 AWG"), 2.54, 0.005),
    _worked(GUIDE, lambda: _pct(_cold(16, 50, "12 AWG"), 120), 2.1, 0.05),
    # 0.3 Ω of 14 AWG at 10 A: 3 V times 10 A
    _worked(
        "engineers' comment on wire resistance by gauge",
        lambda: hidden_resistance.heat_w(0.3, 10),
        30,
        0.5,
    ),
    # charging circuits, no published answer: 60 ft of 14 AWG 12 A; 100 ft of 8 AWG 32 A
    Case(SUBJECT, HAND, lambda: _by_table_8(12, 60, "14 AWG"), 4.522, 0.0005),
    Case(SUBJECT, HAND, lambda: _by_table_8(32, 100, "8 AWG"), 4.979, 0.0005),
    # limits: 3 % and 5 %, an informational note
    Case(
        SUBJECT,
        "NEC 2023 210.19 informational note",
        lambda: circuit.drop_limits(nec()).branch_pct.value,
        3.0,
    ),
    Case(
        SUBJECT,
        "NEC 2023 215.2(A)(2) informational note",
        lambda: circuit.drop_limits(nec()).total_pct.value,
        5.0,
    ),
    Case(
        SUBJECT,
        "NEC 2023 210.19: not enforceable",
        lambda: circuit.drop_limits(nec()).branch_pct.force,
        Force.RECOMMENDATION,
    ),
    # a regulator prints the service bands that ANSI C84.1 range A has
    Case(SUBJECT, "COMAR 20.50.07.02, 120 V", lambda: _band(120), (114, 126)),
    Case(SUBJECT, "COMAR 20.50.07.02, 120/240 V", lambda: _band(240), (228, 252)),
    # the regulator prints 219 for 208 V from 126 × √3 rounded up; C84.1 prints 218
    Case(SUBJECT, "COMAR 20.50.07.02, 120/208 V, low side", lambda: _band(208)[0], 197),
    # Ohm's and Joule's law: 6.7 V at 31.6 A; 10 mΩ at 32 A; 3 V at 16 A scaled to 40 A
    Case(
        SUBJECT,
        "Ohm's law, by hand",
        lambda: nominal(_load_test(31.6, outlet_v=6.7).outlet.loop_ohm),
        0.2120,
        0.00005,
    ),
    Case(
        SUBJECT,
        "Ohm's law, by hand: 2.4 V at the panel, 6.7 V at the outlet, 31.6 A",
        lambda: nominal(_load_test(31.6, outlet_v=6.7, panel_v=2.4).branch.loop_ohm),
        0.1361,
        0.00005,
    ),
    Case(
        SUBJECT,
        "Joule's law, by hand",
        lambda: hidden_resistance.heat_w(0.010, 32),
        10.24,
        0.005,
    ),
    Case(
        SUBJECT,
        "Ohm's law, by hand",
        lambda: 40 * nominal(_load_test(16, outlet_v=3.0).outlet.loop_ohm),
        7.5,
        0.05,
    ),
    # rise with current, exponents 1.6 and 2.0
    Case(
        SUBJECT,
        "thermography training tip, exponent 2: (48/32)², by hand",
        lambda: heating.rise_interval_k(10.0, 32, 48).high_k,
        22.5,
        0.05,
    ),
    Case(
        SUBJECT,
        "thermography training tip, exponent 1.6: (32/16)^1.6 = 3.031",
        lambda: heating.rise_interval_k(1.0, 16, 32).low_k,
        3.031,
        0.0005,
    ),
    # a copper-copper joint of 102 K at 973 A may carry 990 A at 105 K: the current goes with the
    # rise to the power 0.61, as the copper handbook has it; 0.5 A of the printed answer are 0.09 K
    Case(
        SUBJECT,
        "IEC 61439-1, 10.10.2.3.1: an example worked in a public question about it",
        lambda: heating.scaled_rise_k(102.0, 973, 990, 1 / 0.61),
        105.0,
        0.1,
        is_worked=True,
    ),
)
