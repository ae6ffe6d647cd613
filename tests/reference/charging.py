"""EV circuits: breaker, own circuit, disconnect, ground fault, lengths and heights, power."""

from checks.codes import circuit, grounding, place, sizing
from checks.codes.ampacity import Wiring
from checks.codes.answer import Outcome
from checks.electrical import energy
from tests.reference.case import Case, nec

SUBJECT = "EV circuits"
COUNTY = "Eligibility Checklist for Expedited EVCS Multi-Unit Dwelling Permitting"
DESIGN = "Basic NEC Code Rules and Design Practice, circuit loading, non-motor loads"
CHECK_FORM = "NEC 2023 210.19, 240.4, table 310.16, by hand"


def _size(load_a: float, breaker_a: float, marked_c: int) -> str:
    wiring = Wiring("", "copper", "THWN-2", marked_c=marked_c)
    return sizing.minimum_size(nec(), wiring, load_a, breaker_a).size


def _breaker(load_a: float) -> float:
    needed = circuit.required_circuit_a(nec(), load_a).value
    return circuit.next_standard_a(nec(), needed).value


def _ground_fault(
    *, is_receptacle: bool, where: str, breaker_a: float, is_dwelling: bool = True
) -> Outcome:
    return grounding.ground_fault_required(
        nec(),
        is_receptacle=is_receptacle,
        place=where,
        is_dwelling=is_dwelling,
        volts_to_ground_v=120,
        breaker_a=breaker_a,
    ).outcome


def _disconnect(output_a: float, volts_to_ground_v: float) -> Outcome:
    return circuit.disconnect_required(nec(), output_a, volts_to_ground_v).outcome


def _largest(breaker_a: float, amps: float) -> Case:
    return Case(
        SUBJECT,
        f"{DESIGN}, {breaker_a:g} A breaker",
        lambda: circuit.largest_charger_a(nec(), breaker_a).value,
        amps,
        0.5,
        is_worked=True,
    )


CASES = (
    _largest(15, 12),
    _largest(35, 28),
    _largest(60, 48),
    _largest(90, 72),
    _largest(110, 88),
    _largest(125, 100),
    _largest(150, 120),
    # 33 A × 1.25 = 41.25 A, rounds up to 45 A
    Case(
        SUBJECT,
        "do-it-yourself forum, worked answer on charger circuits",
        lambda: circuit.required_circuit_a(nec(), 33).value,
        41.25,
        0.005,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "do-it-yourself forum, worked answer on charger circuits",
        lambda: _breaker(33),
        45.0,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "do-it-yourself forum, worked answer: 40 A breaker, 8 AWG at 75 °C",
        lambda: _size(32, 40, 75),
        "8 AWG",
        is_worked=True,
    ),
    # three 30 A units on a 100 A circuit under load management: 80 A in all
    Case(
        SUBJECT,
        "625.42 Rating, continuing-education page",
        lambda: circuit.largest_charger_a(nec(), 100).value,
        80.0,
        0.5,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "625.42 Rating, continuing-education page: 80 A shared by three",
        lambda: circuit.largest_charger_a(nec(), 100).value / 3,
        26.7,
        0.05,
        is_worked=True,
    ),
    # power classes on a permit form: 50 A circuit 9.6 kW, 100 A circuit 19.2 kW
    Case(
        SUBJECT,
        COUNTY,
        lambda: energy.power_kw(240, circuit.largest_charger_a(nec(), 50).value),
        9.6,
        0.05,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        COUNTY,
        lambda: energy.power_kw(240, circuit.largest_charger_a(nec(), 100).value),
        19.2,
        0.05,
        is_worked=True,
    ),
    # conductors by hand: 48 A wants 60 A, 6 AWG has 55 A at 60 °C and 65 A at 75 °C
    Case(SUBJECT, CHECK_FORM, lambda: _size(48, 60, 75), "6 AWG"),
    Case(SUBJECT, CHECK_FORM, lambda: _size(48, 60, 60), "4 AWG"),
    Case(SUBJECT, CHECK_FORM, lambda: _size(20, 25, 75), "10 AWG"),
    Case(SUBJECT, CHECK_FORM, lambda: _size(44, 60, 60), "6 AWG"),
    Case(SUBJECT, CHECK_FORM, lambda: _size(80, 100, 75), "3 AWG"),
    # own circuit above 16 A or above 120 V
    Case(
        SUBJECT,
        "NEC 2023 625.40",
        lambda: circuit.individual_circuit_required(nec(), 16, 120).outcome,
        Outcome.NO,
    ),
    Case(
        SUBJECT,
        "NEC 2023 625.40",
        lambda: circuit.individual_circuit_required(nec(), 12, 240).outcome,
        Outcome.YES,
    ),
    # more than 60 A, or more than 150 V to ground
    Case(SUBJECT, "NEC 2023 625.43", lambda: _disconnect(60, 120), Outcome.NO),
    Case(SUBJECT, "NEC 2023 625.43", lambda: _disconnect(64, 120), Outcome.YES),
    Case(SUBJECT, "NEC 2023 625.43: 480Y/277 V", lambda: _disconnect(30, 277), Outcome.YES),
    Case(
        SUBJECT,
        "NEC 2023 625.54",
        lambda: _ground_fault(is_receptacle=True, where="garage", breaker_a=50),
        Outcome.YES,
    ),
    Case(
        SUBJECT,
        "NEC 2023 210.8(F): up to 50 A, so not a 60 A circuit",
        lambda: _ground_fault(is_receptacle=False, where="outdoors", breaker_a=60),
        Outcome.NO,
    ),
    Case(
        SUBJECT,
        "NEC 2023 210.8(F), disputed",
        lambda: _ground_fault(is_receptacle=False, where="outdoors", breaker_a=50),
        Outcome.READ_TWO_WAYS,
    ),
    # 7.5 m (25 ft); 450 mm indoors, 600 mm outdoors
    Case(SUBJECT, "NEC 2023 625.17(C)", lambda: place.output_cable_m(nec()).value, 7.62, 0.005),
    Case(
        SUBJECT,
        "NEC 2023 625.50",
        lambda: place.storage_height_m(nec(), is_outdoors=True).value,
        0.600,
        0.0005,
    ),
    Case(
        SUBJECT,
        "NEC 2023 625.50",
        lambda: place.storage_height_m(nec(), is_outdoors=False).value,
        0.450,
        0.0005,
    ),
    Case(
        SUBJECT,
        "NEC 2023 table 110.26(A)(1), 151-600 V, condition 3",
        lambda: place.working_space(nec(), 277, condition=3).depth_m.value,
        1.2,
        0.05,
    ),
    # a magazine's examples: 16 in. wide panel, 30 in.; 52 in. switchboard, 52 in.
    Case(
        SUBJECT,
        "Electrical Contractor magazine, General Installation Requirements, part XIX",
        lambda: (
            place.working_space(nec(), 120, equipment_width_m=16 * 0.0254).width_m.value / 0.0254
        ),
        30.0,
        0.5,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "Electrical Contractor magazine, General Installation Requirements, part XIX",
        lambda: (
            place.working_space(nec(), 120, equipment_width_m=52 * 0.0254).width_m.value / 0.0254
        ),
        52.0,
        0.5,
        is_worked=True,
    ),
    # power: coupler's published range ends at 12 A × 120 V and 80 A × 240 V; 30 A at 208 V
    Case(
        SUBJECT,
        "encyclopedia on SAE J1772: 1.44 kW at 12 A, 120 V",
        lambda: energy.power_kw(120, 12),
        1.44,
        0.005,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "encyclopedia on SAE J1772: 19.2 kW at 80 A, 240 V",
        lambda: energy.power_kw(240, 80),
        19.2,
        0.05,
        is_worked=True,
    ),
    # three-phase, by hand: √3 × 208 × 32 = 11 528 W
    Case(
        SUBJECT,
        "circuit theory, by hand",
        lambda: energy.power_kw(208, 32, phases=3),
        11.53,
        0.005,
    ),
    Case(
        SUBJECT,
        "relative difference, by hand: 3 % of volts at 32 A, 7.45 against 7.68 kW",
        lambda: energy.shortfall_pct(energy.power_kw(232.8, 32), energy.power_kw(240, 32)),
        3.0,
        0.05,
    ),
)
