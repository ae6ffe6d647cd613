"""Cells re-typed from the tables of both codes, at least three from each table.

The CE Code's own tables were read only in part: its rows say so.
"""

from collections.abc import Callable
from functools import partial

from checks.codes.profile import CodeProfile
from checks.codes.table import band
from checks.source import trade
from tests.reference.case import Case, cec, nec

SUBJECT = "table cells"
Cells = dict[tuple[object, ...], object]
ANY = trade("a table")


def _ampacity(code: CodeProfile, material: str, size: str) -> object:
    return code.conductors.ampacity_a.value[material][size]


def _ambient(code: CodeProfile, column_c: int, ambient_c: float) -> object:
    return band(code.conductors.ambient_ratio.value[column_c], ambient_c, what="", source=ANY)


def _bundling(code: CodeProfile, count: int) -> object:
    return band(code.conductors.bundling_ratio.value, count, what="", source=ANY)


def _area(code: CodeProfile, size: str) -> object:
    return code.conductors.area_cmil.value[size]


def _resistance(code: CodeProfile, material: str, size: str) -> object:
    return code.conductors.resistance_ohm_per_kft.value[material][size]


def _insulation(code: CodeProfile, letters: str) -> object:
    return code.conductors.insulation_c[letters].value


def _insulated_cap(code: CodeProfile, cable: str, size: str) -> object:
    return code.conductors.insulated_cap_c[cable].value.get(size)


def _next_standard(code: CodeProfile, amps: float) -> object:
    return next((each for each in code.overcurrent.standard_a.value if each >= amps), None)


def _cap(code: CodeProfile, material: str, size: str) -> object:
    return code.overcurrent.small_conductor_cap_a.value[material][size]


def _grounding(code: CodeProfile, material: str, breaker_a: float) -> object:
    return band(code.overcurrent.grounding.value[material], breaker_a, what="", source=ANY)


def _service(code: CodeProfile, material: str, rating_a: float) -> object:
    assert code.conductors.dwelling_service is not None
    bands = code.conductors.dwelling_service.value[material]
    return band(bands, rating_a, what="", source=ANY)


def _shared(code: CodeProfile, circuit_a: int) -> object:
    return code.receptacles.shared_a.value[circuit_a]


def _supply(code: CodeProfile, nominal_v: int, place: str, name: str) -> object:
    found = code.voltage.supply[nominal_v, place, name].value
    return found.low_v, found.high_v


def _space(code: CodeProfile, volts_to_ground_v: float, condition: int) -> object:
    depths = band(code.workspace.depth_m.value, volts_to_ground_v, what="", source=ANY)
    return depths[condition - 1]


def _cover(code: CodeProfile, above: str, method: str) -> object:
    return code.installation.cover_m[above].value[method]


Read = Callable[..., object]

# Table, how it is read here, cells: row and column, then what is printed.
NEC_TABLES: dict[str, tuple[Read, Cells]] = {
    "table 310.16": (
        _ampacity,
        {
            ("copper", "14 AWG"): (15, 20, 25),
            ("copper", "8 AWG"): (40, 50, 55),
            ("copper", "3 AWG"): (85, 100, 115),
            ("copper", "1/0 AWG"): (125, 150, 170),
            ("copper", "4/0 AWG"): (195, 230, 260),
            ("aluminum", "12 AWG"): (15, 20, 25),
            ("aluminum", "8 AWG"): (35, 40, 45),
            ("aluminum", "2 AWG"): (75, 90, 100),
            ("aluminum", "4/0 AWG"): (150, 180, 205),
        },
    ),
    "table 310.15(B)(1)(1)": (
        _ambient,
        {
            (60, 10): 1.29,
            (60, 40): 0.82,
            (60, 55): 0.41,
            (75, 20): 1.11,
            (75, 36): 0.88,
            (75, 70): 0.33,
            (90, 43): 0.87,
            (90, 50): 0.82,
            (90, 85): 0.29,
        },
    ),
    "table 310.15(C)(1)": (
        _bundling,
        {(3,): 1.00, (4,): 0.80, (9,): 0.70, (10,): 0.50, (30,): 0.45, (40,): 0.40, (41,): 0.35},
    ),
    "table 310.4(1)": (
        _insulation,
        {
            ("THHN",): (90, None),
            ("THWN",): (75, 75),
            ("THWN-2",): (90, 90),
            ("XHHW",): (90, 75),
        },
    ),
    "338.10(B)(4)(a)(3) and 320.80(A), in thermal insulation": (
        _insulated_cap,
        {
            ("SE", "14 AWG"): 60,
            ("SE", "10 AWG"): 60,
            ("SE", "8 AWG"): None,
            ("AC", "12 AWG"): 60,
            ("AC", "4/0 AWG"): 60,
        },
    ),
    "chapter 9 table 8, areas": (
        _area,
        {
            ("14 AWG",): 4_110,
            ("10 AWG",): 10_380,
            ("4 AWG",): 41_740,
            ("1 AWG",): 83_690,
            ("3/0 AWG",): 167_800,
        },
    ),
    "chapter 9 table 8, resistance": (
        _resistance,
        {
            ("copper", "14 AWG"): 3.14,
            ("copper", "4 AWG"): 0.308,
            ("copper", "2/0 AWG"): 0.0967,
            ("aluminum", "12 AWG"): 3.25,
            ("aluminum", "6 AWG"): 0.808,
            ("aluminum", "1/0 AWG"): 0.201,
        },
    ),
    "table 310.12(A)": (
        _service,
        {
            ("copper", 100): "4 AWG",
            ("copper", 150): "1 AWG",
            ("copper", 225): "3/0 AWG",
            ("aluminum", 110): "1 AWG",
            ("aluminum", 175): "3/0 AWG",
            ("aluminum", 400): "600 kcmil",
        },
    ),
    "table 240.6(A)": (
        _next_standard,
        {(1,): 10, (31,): 35, (51,): 60, (111,): 125, (226,): 250, (351,): 400},
    ),
    "240.4(D)": (
        _cap,
        {
            ("copper", "14 AWG"): 15,
            ("copper", "12 AWG"): 20,
            ("copper", "10 AWG"): 30,
            ("aluminum", "12 AWG"): 15,
            ("aluminum", "10 AWG"): 25,
        },
    ),
    "table 250.122": (
        _grounding,
        {
            ("copper", 15): "14 AWG",
            ("copper", 25): "10 AWG",
            ("copper", 100): "8 AWG",
            ("copper", 400): "3 AWG",
            ("aluminum", 20): "10 AWG",
            ("aluminum", 60): "8 AWG",
            ("aluminum", 200): "4 AWG",
        },
    ),
    "table 210.21(B)(3)": (
        _shared,
        {(15,): (15,), (20,): (15, 20), (30,): (30,), (40,): (40, 50), (50,): (50,)},
    ),
    "table 110.26(A)(1)": (_space, {(120, 1): 0.9, (277, 1): 0.9, (277, 2): 1.0, (600, 3): 1.2}),
    "table 300.5(A)": (
        _cover,
        {
            ("general", "cable"): 0.6,
            ("general", "metal conduit"): 0.15,
            ("general", "tubing"): 0.45,
            ("general", "protected small circuit"): 0.3,
            ("street", "protected small circuit"): 0.6,
            ("driveway", "cable"): 0.45,
            ("street", "metal conduit"): 0.6,
        },
    ),
    "ANSI C84.1 (service A read, the rest from memory)": (
        _supply,
        {
            (120, "service", "A"): (114, 126),
            (240, "service", "B"): (220, 254),
            (208, "utilization", "A"): (191, 218),
            (208, "utilization", "B"): (184, 220),
            (120, "utilization", "B"): (106, 127),
        },
    ),
}
CE_TABLES: dict[str, tuple[Read, Cells]] = {
    "table 2 (14 to 6 AWG read)": (
        _ampacity,
        {
            ("copper", "14 AWG"): (15, 20, 25),
            ("copper", "12 AWG"): (20, 25, 30),
            ("copper", "8 AWG"): (40, 50, 55),
            ("copper", "2/0 AWG"): (145, 175, 195),
        },
    ),
    "table 4 (from memory)": (
        _ampacity,
        {
            ("aluminum", "12 AWG"): (15, 20, 25),
            ("aluminum", "4 AWG"): (55, 65, 75),
            ("aluminum", "1/0 AWG"): (100, 120, 135),
        },
    ),
    "table 19 (from memory; what makers print agrees)": (
        _insulation,
        {
            ("NMD90",): (90, None),
            ("NMWU",): (60, 60),
            ("AC90",): (90, None),
            ("ACWU90",): (90, 90),
            ("TECK90",): (90, 90),
        },
    ),
    "table 53 (from memory)": (
        _cover,
        {
            ("general", "cable"): 0.6,
            ("general", "armored cable"): 0.45,
            ("general", "tubing"): 0.45,
            ("driveway", "cable"): 0.9,
            ("street", "metal conduit"): 0.6,
        },
    ),
    "table 5A (from memory)": (
        _ambient,
        {(60, 35): 0.91, (75, 41): 0.82, (90, 20): 1.0, (90, 60): 0.71, (75, 50): 0.75},
    ),
    "table 5C (from memory)": (
        _bundling,
        {(3,): 1.0, (6,): 0.8, (24,): 0.7, (25,): 0.6, (43,): 0.5},
    ),
    "table 13 (from memory)": (_next_standard, {(1,): 15, (36,): 40, (91,): 100, (351,): 400}),
    "14-104": (
        _cap,
        {("copper", "14 AWG"): 15, ("copper", "10 AWG"): 30, ("aluminum", "10 AWG"): 25},
    ),
    "table 16 (from memory)": (
        _grounding,
        {
            ("copper", 20): "14 AWG",
            ("copper", 30): "12 AWG",
            ("copper", 60): "10 AWG",
            ("aluminum", 15): "12 AWG",
            ("aluminum", 200): "4 AWG",
        },
    ),
    "14-600, a receptacle at least as much as its circuit": (
        _shared,
        {(15,): (15, 20, 30, 50, 60), (20,): (20, 30, 50, 60), (40,): (50, 60)},
    ),
    "CSA C235 (from memory)": (
        _supply,
        {
            (120, "service", "A"): (110, 125),
            (240, "service", "A"): (220, 250),
            (240, "service", "B"): (212, 254),
        },
    ),
}


def _cases(
    code: Callable[[], CodeProfile], title: str, tables: dict[str, tuple[Read, Cells]]
) -> list[Case]:
    return [
        Case(SUBJECT, f"{title} {table}, {key}", partial(_call, code, read, key), printed)
        for table, (read, cells) in tables.items()
        for key, printed in cells.items()
    ]


def _call(code: Callable[[], CodeProfile], read: Read, key: tuple[object, ...]) -> object:
    return read(code(), *key)


CASES = (
    *_cases(nec, "NEC 2023", NEC_TABLES),
    *_cases(cec, "CE Code 2021", CE_TABLES),
)
