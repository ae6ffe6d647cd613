"""Ampacity and overcurrent protection."""

from checks.codes import ampacity, circuit, sizing
from checks.codes.ampacity import Wiring
from tests.reference.case import Case, nec

SUBJECT = "ampacity"
TABLE = "NEC 2023 table 310.16"


def _cell(material: str, size: str, column: int, amps: int) -> Case:
    columns = {60: 0, 75: 1, 90: 2}
    return Case(
        SUBJECT,
        f"{TABLE}, {material}, {size}, {column} °C",
        lambda: nec().conductors.ampacity_a.value[material][size][columns[column]],
        amps,
    )


def _corrected(wiring: Wiring) -> float:
    return ampacity.conductor_ampacity(nec(), wiring, 20).corrected_a.value


def _device(wiring: Wiring, circuit_a: float, *, is_shared: bool = False) -> float:
    found = ampacity.conductor_ampacity(nec(), wiring, circuit_a)
    return sizing.overcurrent_allowed_a(
        nec(), wiring, found, is_shared_by_receptacles=is_shared
    ).value


def _load(wiring: Wiring, circuit_a: float) -> float:
    found = ampacity.conductor_ampacity(nec(), wiring, circuit_a)
    return sizing.largest_continuous_load_a(nec(), found).value


def _worked(document: str, actual: object, expected: float, tolerance: float) -> Case:
    assert callable(actual)
    return Case(SUBJECT, document, actual, expected, tolerance, is_worked=True)


A1 = Wiring("6 AWG", "copper", "THWN-2", ambient_c=43, current_carrying=6, marked_c=75)
A2 = Wiring("8 AWG", "copper", "THWN-2", ambient_c=38, current_carrying=5, marked_c=75)
A3 = Wiring("10 AWG", "copper", "THWN-2", ambient_c=38, current_carrying=5, marked_c=75)
NM_6 = Wiring("6 AWG", "copper", "NM", cable="NM", marked_c=75)
NINE_12 = Wiring("12 AWG", "copper", "THHN", current_carrying=9, marked_c=75)
HOT_10 = Wiring("10 AWG", "copper", "THHN", ambient_c=(120 - 32) / 1.8, marked_c=75)
NM_12_BUNDLED = Wiring("12 AWG", "copper", "NM", cable="NM", current_carrying=8)
HOT_2 = Wiring("2 AWG", "copper", "THWN", ambient_c=(100 - 32) / 1.8, marked_c=75)
WARM_8 = Wiring("8 AWG", "copper", "THHN", ambient_c=40, current_carrying=6, marked_c=75)
EIGHT_12 = Wiring("12 AWG", "copper", "THHN", current_carrying=8, marked_c=75)
ATTIC_12 = Wiring("12 AWG", "copper", "THHN", ambient_c=(110 - 32) / 1.8, marked_c=60)
NM = Wiring("6 AWG", "copper", "NM", cable="NM", marked_c=75)
SE = Wiring("6 AWG", "copper", "XHHW-2", cable="SE", marked_c=75)
SER_6 = Wiring("6 AWG", "aluminum", "XHHW-2", cable="SE", marked_c=75)
ATTIC_SE = Wiring(
    "1/0 AWG", "aluminum", "XHHW", "SE", ambient_c=(110 - 32) / 1.8, is_in_insulation=True
)
HEATER_A = 10_000 / 240 + 3  # 10 kW and a blower of 3 A
BY_HAND = f"{TABLE}, 310.15, 110.14(C), 240.4, by hand"


def _at_terminals(size: str, cable: str, *, is_in_insulation: bool, metal: str = "copper") -> float:
    letters = "XHHW-2" if cable == "SE" else "THHN"
    wiring = Wiring(size, metal, letters, cable, is_in_insulation=is_in_insulation, marked_c=75)
    return ampacity.conductor_ampacity(nec(), wiring, 50).final_a.value


CASES = (
    _cell("copper", "14 AWG", 60, 15),
    _cell("copper", "10 AWG", 90, 40),
    _cell("copper", "8 AWG", 75, 50),
    _cell("copper", "6 AWG", 60, 55),
    _cell("copper", "6 AWG", 75, 65),
    _cell("copper", "6 AWG", 90, 75),
    _cell("copper", "3 AWG", 90, 115),
    _cell("copper", "4/0 AWG", 75, 230),
    _cell("aluminum", "8 AWG", 75, 40),
    _cell("aluminum", "6 AWG", 75, 50),
    _cell("aluminum", "1/0 AWG", 60, 100),
    # an article of a training school: 10 AWG THHN at 120 °F, 40 A × 82 %
    Case(
        SUBJECT,
        "Applying Correction Factors (training article), example problem",
        lambda: _corrected(HOT_10),
        32.8,
        0.05,
        is_worked=True,
    ),
    # nine 12 AWG THHN in a raceway: 30 A × 0.70; still suitable for a 20 A circuit
    Case(
        SUBJECT,
        "EC&M, Code Q&A on 110.14(C) and 310.15",
        lambda: _corrected(NINE_12),
        21.0,
        0.05,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "EC&M, Code Q&A on 110.14(C) and 310.15",
        lambda: _device(NINE_12, 20),
        20.0,
        is_worked=True,
    ),
    # eight conductors of bundled 12 AWG NM cables: 0.7 × 30 = 21 A, a 20 A breaker stays
    Case(
        SUBJECT,
        "trade forum, worked answer on derating NM-B from the 90 °C column",
        lambda: _device(NM_12_BUNDLED, 20),
        20.0,
        is_worked=True,
    ),
    # 6 AWG NM is good for 55 A, and a 60 A breaker by the next size up
    Case(
        SUBJECT,
        "trade forum, worked answer on a kiln circuit, 334.80 and 240.4(B)",
        lambda: _device(NM_6, 60),
        60.0,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "trade forum, worked answer on a kiln circuit, 334.80",
        lambda: ampacity.conductor_ampacity(nec(), NM_6, 60).final_a.value,
        55.0,
        is_worked=True,
    ),
    # 115 A × 0.88
    _worked(
        "Temperature Correction of Ampacity (lesson), example",
        lambda: _corrected(HOT_2),
        101.2,
        0.05,
    ),
    # 55 A × 0.91 × 0.80
    _worked(
        "article on sizing 8 AWG for a continuous load", lambda: _corrected(WARM_8), 40.04, 0.005
    ),
    # 30 A × 0.70
    _worked(
        "Electrical level 3 practice test 2026, module 1", lambda: _corrected(EIGHT_12), 21.0, 0.05
    ),
    # 30 A × 0.87
    _worked(
        "inspectors' forum, worked answer on an exam question",
        lambda: _corrected(ATTIC_12),
        26.1,
        0.05,
    ),
    # 56 A for a heater of 10 kW and its blower: 4 AWG NM, 6 AWG SE; the wording of 338.10 was that
    # of 2002, which capped no size, as 2023 caps none above 10 AWG
    _worked(
        "EC&M, change to 338.10, 2002 NEC, example calculation",
        lambda: [sizing.minimum_size(nec(), each, HEATER_A, 60).size for each in (NM, SE)],
        ["4 AWG", "6 AWG"],
        0.0,
    ),
    # 1/0 aluminum XHHW in an attic of 110 °F: 135 A × 0.87; the cap of 100 A that this answer goes
    # on to is that of older editions
    _worked(
        "trade answer on SE cable in thermal insulation, 338.10(B)(4)",
        lambda: _corrected(ATTIC_SE),
        117.45,
        0.05,
    ),
    # NEC 2023 338.10(B)(4)(a)(3): the 60 °C column for 10 AWG and smaller in thermal insulation;
    # table 310.16: 10 AWG copper 30 and 35 A, 8 AWG aluminum 40 A at 75 °C
    Case(
        SUBJECT,
        "NEC 2023 338.10(B)(4)(a)(3), table 310.16, by hand",
        lambda: [
            _at_terminals("10 AWG", "SE", is_in_insulation=True),
            _at_terminals("10 AWG", "SE", is_in_insulation=False),
            _at_terminals("8 AWG", "SE", is_in_insulation=True, metal="aluminum"),
        ],
        [30.0, 35.0, 40.0],
    ),
    # NEC 2023 320.80(A): the 60 °C column in thermal insulation, whatever the size
    Case(
        SUBJECT,
        "NEC 2023 320.80(A), table 310.16, by hand",
        lambda: [
            _at_terminals("6 AWG", "AC", is_in_insulation=True),
            _at_terminals("6 AWG", "AC", is_in_insulation=False),
            _at_terminals("12 AWG", "AC", is_in_insulation=True),
        ],
        [55.0, 65.0, 20.0],
    ),
    # 6 AWG aluminum SER: 50 A at 75 °C are 40 A of continuous load
    Case(SUBJECT, BY_HAND, lambda: _load(SER_6, 50), 40.0, 0.005),
    # by hand: 75 × 0.87 × 0.80; 55 × 0.91 × 0.80; 40 × 0.91 × 0.80, next size up
    Case(SUBJECT, BY_HAND, lambda: _corrected(A1), 52.2, 0.05),
    Case(SUBJECT, BY_HAND, lambda: _corrected(A2), 40.04, 0.005),
    Case(SUBJECT, BY_HAND, lambda: _device(A3, 30), 30.0),
    Case(SUBJECT, BY_HAND, lambda: _device(A3, 30, is_shared=True), 25.0),
    # 48 A on 6 AWG NM needs 60 A, it has 55 A: it carries 44 A
    Case(SUBJECT, BY_HAND, lambda: _load(NM_6, 60), 44.0, 0.05),
    # 6 AWG NM in a 40 °C attic: 75 × 0.91 = 68.3 A, capped to 55 A
    Case(
        SUBJECT,
        BY_HAND,
        lambda: _corrected(Wiring("6 AWG", "copper", "NM", cable="NM", ambient_c=40)),
        55.0,
        0.05,
    ),
    # 12 AWG at 75 °C carries 25 A, yet 240.4(D) keeps the device at 20 A
    Case(
        SUBJECT,
        "NEC 2023 240.4(D)",
        lambda: _device(Wiring("12 AWG", "copper", "THWN-2", marked_c=75), 25),
        20.0,
    ),
    # unmarked terminals: 60 °C up to 100 A, 75 °C above
    Case(
        SUBJECT,
        "NEC 2023 110.14(C)(1)(a)",
        lambda: ampacity.termination_column_c(nec(), 100).value,
        60,
    ),
    Case(
        SUBJECT,
        "NEC 2023 110.14(C)(1)(b)",
        lambda: ampacity.termination_column_c(nec(), 110).value,
        75,
    ),
    Case(SUBJECT, "NEC 2023 table 240.6(A)", lambda: circuit.is_standard(nec(), 55), False),
    Case(SUBJECT, "NEC 2023 table 240.6(A)", lambda: circuit.is_standard(nec(), 10), True),
    Case(SUBJECT, "NEC 2023 table 240.6(A)", lambda: circuit.next_standard_a(nec(), 41).value, 45),
)
