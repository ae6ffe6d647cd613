"""CE Code 2021: conductors, devices, receptacles and section 86."""

from checks.codes import ampacity, circuit, grounding, receptacle, sizing
from checks.codes.ampacity import Wiring
from checks.codes.answer import Outcome
from checks.electrical.conductor import resistance_ohm
from checks.electrical.drop import drop_v
from checks.verdict import Force
from tests.reference.case import Case, cec

SUBJECT = "CE Code"
TABLE_2 = "CE Code 2021 table 2, study notes quoting C22.1:21"
MEMORY = "from memory"


def _cells(size: str, material: str = "copper") -> tuple[int, ...]:
    return cec().conductors.ampacity_a.value[material][size]


def _wiring(size: str, **more: object) -> Wiring:
    return Wiring(size, "copper", "RW90", marked_c=75, **more)  # type: ignore[arg-type]


def _corrected(size: str, **more: object) -> float:
    return ampacity.conductor_ampacity(cec(), _wiring(size, **more), 40).corrected_a.value


def _largest(size: str) -> float:
    found = ampacity.conductor_ampacity(cec(), _wiring(size), 40)
    return sizing.largest_continuous_load_a(cec(), found).value


def _device(size: str) -> float:
    wiring = _wiring(size)
    return sizing.overcurrent_allowed_a(
        cec(), wiring, ampacity.conductor_ampacity(cec(), wiring, 40)
    ).value


def _cable_device(size: str, letters: str) -> float:
    wiring = Wiring(size, "copper", letters, cable=letters, marked_c=75)
    return sizing.overcurrent_allowed_a(
        cec(), wiring, ampacity.conductor_ampacity(cec(), wiring, 40)
    ).value


def _cable_load(size: str, letters: str) -> float:
    wiring = Wiring(size, "copper", letters, cable=letters, marked_c=75)
    found = ampacity.conductor_ampacity(cec(), wiring, 60)
    return sizing.largest_continuous_load_a(cec(), found).value


def _permitted(name: str, **more: object) -> Outcome:
    ruling = receptacle.receptacle_permitted(
        cec(),
        name,
        is_fastened=False,
        **more,  # type: ignore[arg-type]
    )
    return ruling.outcome


def _ground_fault(name: str, place: str) -> Outcome:
    return grounding.ground_fault_required(
        cec(),
        is_receptacle=True,
        place=place,
        is_dwelling=True,
        volts_to_ground_v=120,
        breaker_a=20,
        configuration=name,
    ).outcome


def _at_1_percent_am(size: str) -> float:
    """Amps times meters for 1 % of 120 V on two wires at 60 °C."""
    return 1.2 / drop_v(1.0, resistance_ohm(size, "copper", 1.0, 60.0))


CASES = (
    Case(SUBJECT, TABLE_2, lambda: _cells("14 AWG"), (15, 20, 25)),
    Case(SUBJECT, TABLE_2, lambda: _cells("10 AWG"), (30, 35, 40)),
    Case(SUBJECT, TABLE_2, lambda: _cells("6 AWG"), (55, 65, 75)),
    Case(SUBJECT, f"CE Code 2021 table 2, {MEMORY}", lambda: _cells("3 AWG"), (85, 100, 115)),
    Case(
        SUBJECT,
        f"CE Code 2021 table 4, {MEMORY}",
        lambda: [_cells(size, "aluminum") for size in ("10 AWG", "6 AWG", "4/0 AWG")],
        [(25, 30, 35), (40, 50, 55), (150, 180, 205)],
    ),
    # table 5A begins above 30 °C; between rows the next higher; table 5C from seven conductors up
    Case(
        SUBJECT,
        f"CE Code 2021 table 5A, {MEMORY}",
        lambda: [round(_corrected("8 AWG", ambient_c=c), 2) for c in (10, 30, 38, 50)],
        [55.0, 55.0, 50.05, 45.1],
    ),
    Case(
        SUBJECT,
        f"CE Code 2021 table 5C, {MEMORY}",
        lambda: [round(_corrected("8 AWG", current_carrying=n), 2) for n in (3, 6, 24, 42, 43)],
        [55.0, 44.0, 38.5, 33.0, 27.5],
    ),
    # 8-104: 80 % of device and of ampacity: 32 A on 40 A and 8 AWG at 75 °C (50 A)
    Case(
        SUBJECT,
        "CE Code 2021 8-104 6), by hand",
        lambda: circuit.largest_charger_a(cec(), 40).value,
        32.0,
    ),
    Case(SUBJECT, "CE Code 2021 8-104 6), by hand", lambda: _largest("8 AWG"), 40.0, 0.005),
    # after correction the 80 % still hold: 55 A × 0.80 bundling × 80 % = 35.2 A
    Case(
        SUBJECT,
        "CE Code 2021 8-104 6) with table 5C, by hand",
        lambda: (
            sizing.largest_continuous_load_a(
                cec(),
                ampacity.conductor_ampacity(cec(), _wiring("8 AWG", current_carrying=6), 40),
            ).value
        ),
        35.2,
        0.05,
    ),
    Case(
        SUBJECT,
        "CE Code 2021 8-104 5): marked for 100 %",
        lambda: circuit.required_circuit_a(cec(), 40, is_fully_rated=True).value,
        40.0,
    ),
    # terminals of 75 °C decide for NMD90: 8 AWG on 50 A; NMWU stays at its own 60 °C, 8 AWG 40 A
    Case(
        SUBJECT,
        "trade forum, worked answer on NMD90 and NMWU after the change of tables 1 to 4",
        lambda: [_cable_device("8 AWG", letters) for letters in ("NMD90", "NMWU")],
        [50.0, 40.0],
        is_worked=True,
    ),
    # 80 % of 65 A, table 2, 6 AWG at 75 °C: what 334.80 of the other code would keep at 55 A
    Case(
        SUBJECT,
        "CE Code 2021 8-104 6), tables 2 and 19, by hand",
        lambda: [_cable_load("6 AWG", letters) for letters in ("NMD90", "AC90", "TECK90")],
        [52.0, 52.0, 52.0],
    ),
    # 14-104: 10 AWG carries 35 A at 75 °C, and its device is 30 A at most
    Case(SUBJECT, "CE Code 2021 14-104", lambda: _device("10 AWG"), 30.0),
    Case(SUBJECT, "CE Code 2021 14-104", lambda: _device("12 AWG"), 20.0),
    Case(
        SUBJECT,
        f"CE Code 2021 table 13, {MEMORY}",
        lambda: [circuit.next_standard_a(cec(), amps).value for amps in (10, 41, 56, 101)],
        [15.0, 45.0, 60.0, 110.0],
    ),
    Case(
        SUBJECT,
        f"CE Code 2021 table 16, {MEMORY}",
        lambda: [
            grounding.grounding_size(cec(), amps, "copper").size for amps in (20, 30, 40, 100)
        ],
        ["14 AWG", "12 AWG", "10 AWG", "8 AWG"],
    ),
    Case(
        SUBJECT,
        "CE Code 2021 14-600",
        lambda: [
            receptacle.receptacle_against_circuit(cec(), name, amps, is_single=single).outcome
            for name, amps, single in (
                ("14-30", 40, True),
                ("14-50", 40, True),
                ("5-15", 20, False),
                ("5-20", 20, False),
            )
        ],
        [Outcome.NO, Outcome.YES, Outcome.NO, Outcome.YES],
    ),
    # 86-306: a single 5-20 on at least 20 A; a 5-15 never
    Case(SUBJECT, "CE Code 2021 86-306 1)", lambda: _permitted("5-15"), Outcome.NO),
    Case(
        SUBJECT,
        "CE Code 2021 86-306 1)",
        lambda: [
            _permitted("5-20", breaker_a=20.0, is_single=True),
            _permitted("5-20", breaker_a=15.0, is_single=True),
            _permitted("5-20", breaker_a=20.0, is_single=False),
        ],
        [Outcome.YES, Outcome.NO, Outcome.NO],
    ),
    Case(SUBJECT, "CE Code 2021 86-306 1)", lambda: _permitted("14-50"), Outcome.YES),
    Case(SUBJECT, "CE Code 2021 86-306 1)", lambda: _permitted("TT-30"), Outcome.NO),
    Case(
        SUBJECT,
        "CE Code 2021 86-306 2)",
        lambda: [_ground_fault("5-20", "outdoors"), _ground_fault("14-50", "outdoors")],
        [Outcome.YES, Outcome.NO],
    ),
    # 86-304 (an earlier edition): 60 A or more; 86-300: a circuit of its own, always
    Case(
        SUBJECT,
        "CE Code 86-304, an earlier edition",
        lambda: [circuit.disconnect_required(cec(), amps, 120).outcome for amps in (59, 60)],
        [Outcome.NO, Outcome.YES],
    ),
    Case(
        SUBJECT,
        "CE Code 2021 86-300 1)",
        lambda: circuit.individual_circuit_required(cec(), 8, 120).outcome,
        Outcome.YES,
    ),
    # 8-102: a rule, at the connected load or else at 80 % of the device
    Case(
        SUBJECT,
        "CE Code 2021 8-102",
        lambda: (
            circuit.drop_limits(cec()).branch_pct.value,
            circuit.drop_limits(cec()).total_pct.value,
            circuit.drop_limits(cec()).branch_pct.force,
        ),
        (3.0, 5.0, Force.CODE_RULE),
    ),
    Case(
        SUBJECT,
        "CE Code 2021 8-102",
        lambda: [
            circuit.drop_current_a(cec(), 50).value,
            circuit.drop_current_a(cec(), 50, 32).value,
        ],
        [40.0, 32.0],
    ),
    # table D3, 120 V two-wire copper at 60 °C: 61.4, 97.6 and 155 A·m for 1 %
    Case(SUBJECT, f"CE Code table D3, {MEMORY}", lambda: _at_1_percent_am("14 AWG"), 61.4, 0.3),
    Case(SUBJECT, f"CE Code table D3, {MEMORY}", lambda: _at_1_percent_am("12 AWG"), 97.6, 0.5),
    Case(SUBJECT, f"CE Code table D3, {MEMORY}", lambda: _at_1_percent_am("10 AWG"), 155, 0.8),
)
