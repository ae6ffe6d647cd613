"""Conductors: gauge geometry and resistance."""

from checks.electrical import conductor, protective
from tests.reference.case import Case, feet, nec

SUBJECT = "conductors"
KFT_M = feet(1000)

B258 = "ASTM B258, gauge series (from memory)"
TABLE_8 = "NEC 2023 chapter 9 table 8"
# The table's own rounding and its printed areas leave up to 0.5 % to the formula.
LOOSE = 0.006


def _diameter(size: str, mils: float, tolerance: float = 0.005) -> Case:
    return Case(SUBJECT, B258, lambda: conductor.diameter_mm(size) / 0.0254, mils, tolerance)


def _printed(size: str, material: str, ohm_per_kft: float) -> Case:
    return Case(
        SUBJECT,
        f"{TABLE_8}, {material}, {size}, 75 °C stranded",
        lambda: conductor.resistance_ohm(size, material, KFT_M, 75.0),
        ohm_per_kft,
        LOOSE * ohm_per_kft,
    )


def _solid(size: str, ohm_per_kft: float, tolerance: float) -> Case:
    return Case(
        SUBJECT,
        f"{TABLE_8}, copper, {size}, 75 °C solid",
        lambda: conductor.resistance_ohm(size, "copper", KFT_M, 75.0, is_stranded=False),
        ohm_per_kft,
        tolerance,
    )


def _cmil(size: str) -> float:
    """Circular mils by definition: the square of the diameter in thousandths of an inch."""
    return (conductor.diameter_mm(size) / 0.0254) ** 2


def _formula(size: str, cmil: float) -> Case:
    return Case(
        SUBJECT,
        "trade forum thread 47718, areas by the gauge formula",
        lambda: _cmil(size),
        cmil,
        0.5,
        is_worked=True,
    )


CASES = (
    _diameter("4/0 AWG", 460.0),
    _diameter("10 AWG", 101.9, 0.05),
    _diameter("14 AWG", 64.08),
    # the formula worked to whole circular mils (52 634 for 3 AWG is cut, not rounded, and left out)
    _formula("14 AWG", 4_107),
    _formula("10 AWG", 10_383),
    _formula("6 AWG", 26_251),
    _formula("2 AWG", 66_371),
    _formula("1/0 AWG", 105_535),
    Case(
        SUBJECT,
        "AWG to mm² conversion, example of 10 AWG",
        lambda: conductor.diameter_mm("10 AWG"),
        2.588,
        0.0005,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "AWG to mm² conversion, example of 10 AWG",
        lambda: conductor.area_mm2("10 AWG"),
        5.261,
        0.0005,
        is_worked=True,
    ),
    # areas as printed in the table; it rounds, by up to 0.07 %
    Case(SUBJECT, TABLE_8, lambda: _cmil("8 AWG"), 16_510, 5),
    Case(SUBJECT, TABLE_8, lambda: _cmil("2 AWG"), 66_360, 66_360 * 0.0007),
    Case(SUBJECT, TABLE_8, lambda: nec().conductors.area_cmil.value["6 AWG"], 26_240),
    Case(SUBJECT, TABLE_8, lambda: nec().conductors.area_cmil.value["1/0 AWG"], 105_600),
    _printed("14 AWG", "copper", 3.14),
    _printed("8 AWG", "copper", 0.778),
    _printed("6 AWG", "copper", 0.491),
    _printed("3/0 AWG", "copper", 0.0766),
    _printed("6 AWG", "aluminum", 0.808),
    _printed("2 AWG", "aluminum", 0.319),
    _solid("14 AWG", 3.07, 0.005),
    _solid("12 AWG", 1.93, 0.005),
    _solid("8 AWG", 0.764, 0.0005),
    # the table's own note: R2 = R1 (1 + 0.00323 (T2 - 75)); 20 °C against 75 °C, copper
    Case(
        SUBJECT,
        f"{TABLE_8}, note on temperature",
        lambda: (
            conductor.resistance_ohm("6 AWG", "copper", 1.0, 20.0)
            / conductor.resistance_ohm("6 AWG", "copper", 1.0, 75.0)
        ),
        1 + 0.00323 * (20 - 75),
        0.000_005 * 55,  # half the last digit of 0.00323, over 55 K
    ),
    # the same note by hand: 0.778 Ω/1000 ft × 0.82235 at 20 °C, 30 m of 8 AWG
    Case(
        SUBJECT,
        f"{TABLE_8} and its note, by hand",
        lambda: protective.expected_ohm("8 AWG", "copper", 30.0, 20.0),
        0.778 * 0.82235 * 30 / KFT_M,
        LOOSE * 0.063,
    ),
    # the reasoning behind the trade's K = 12.9 for stranded copper at 75 °C: 12.87 (12.84 to 12.93
    # from the table itself)
    Case(
        SUBJECT,
        "trade constant K for copper, used in license lessons on voltage drop",
        lambda: conductor.resistance_ohm("8 AWG", "copper", KFT_M, 75.0) * _cmil("8 AWG") / 1000,
        12.9,
        0.05,
    ),
)
