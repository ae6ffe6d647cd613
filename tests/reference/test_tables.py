"""Laws that whole tables keep: what ascends in the book ascends here; all has a source."""

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from itertools import pairwise

import pytest

from checks.codes import PROFILES
from checks.codes.profile import CodeProfile, Rule
from checks.electrical import conductor
from checks.source import Basis

EVERY_PROFILE = pytest.mark.parametrize("code", PROFILES.values(), ids=lambda code: code.name)


def rules(value: object, path: str = "") -> Iterator[tuple[str, Rule[object]]]:
    """Walk through a profile and give every rule with its place in it."""
    if isinstance(value, Rule):
        yield path, value
        yield from rules(value.value, path)
    elif is_dataclass(value):
        for each in fields(value):
            yield from rules(getattr(value, each.name), f"{path}.{each.name}")
    elif isinstance(value, dict):
        for key, each in value.items():
            yield from rules(each, f"{path}[{key}]")
    elif isinstance(value, tuple):
        for index, each in enumerate(value):
            yield from rules(each, f"{path}[{index}]")


@EVERY_PROFILE
def test_every_rule_names_document_and_clause(code: CodeProfile) -> None:
    found = list(rules(code))

    assert len(found) > 50
    for path, rule in found:
        assert rule.source.document, path
        assert rule.source.clause or rule.source.basis is Basis.OWN_JUDGEMENT, path


@EVERY_PROFILE
def test_ampacity_rises_with_size_and_with_temperature(code: CodeProfile) -> None:
    for sizes in code.conductors.ampacity_a.value.values():
        for cells in sizes.values():
            assert list(cells) == sorted(set(cells))
        for smaller, larger in pairwise(sizes.values()):
            assert all(a < b for a, b in zip(smaller, larger, strict=True))


@EVERY_PROFILE
def test_copper_carries_more_than_aluminum(code: CodeProfile) -> None:
    table = code.conductors.ampacity_a.value
    for size, cells in table["aluminum"].items():
        assert all(a < c for a, c in zip(cells, table["copper"][size], strict=True)), size


@EVERY_PROFILE
def test_sizes_and_ratings_ascend(code: CodeProfile) -> None:
    areas = list(code.conductors.area_cmil.value.values())
    standard = code.overcurrent.standard_a.value

    assert tuple(code.conductors.area_cmil.value) == conductor.SIZES
    assert areas == sorted(set(areas))
    assert list(standard) == sorted(set(standard))


@EVERY_PROFILE
def test_ambient_factors_follow_from_the_temperatures(code: CodeProfile) -> None:
    # NEC 310.15(B)(1): factor = √((Tc - Ta)/(Tc - 30)), Ta the upper end of the band, two decimals
    for column, bands in code.conductors.ambient_ratio.value.items():
        for band in bands:
            expected = ((column - band.upto) / (column - 30)) ** 0.5
            assert band.value == pytest.approx(expected, abs=0.005 + 1e-9), (column, band)


@EVERY_PROFILE
def test_factors_fall_as_bands_rise(code: CodeProfile) -> None:
    tables = [*code.conductors.ambient_ratio.value.values(), code.conductors.bundling_ratio.value]
    for bands in tables:
        for lower, higher in pairwise(bands):
            assert lower.upto < higher.upto
            assert lower.value > higher.value


@EVERY_PROFILE
def test_resistance_falls_as_size_rises(code: CodeProfile) -> None:
    for sizes in code.conductors.resistance_ohm_per_kft.value.values():
        for smaller, larger in pairwise(sizes.values()):
            assert smaller > larger


@EVERY_PROFILE
def test_the_tables_of_resistance_agree_with_conductivity(code: CodeProfile) -> None:
    # 0.6 %: the printed tables' own rounding
    for material, sizes in code.conductors.resistance_ohm_per_kft.value.items():
        for size, printed in sizes.items():
            found = conductor.resistance_ohm(size, material, 304.8, 75.0)
            assert found == pytest.approx(printed, rel=0.006), (material, size)


@EVERY_PROFILE
def test_printed_areas_agree_with_the_gauge_series(code: CodeProfile) -> None:
    # 0.08 %: the table's rounding of 14 AWG is the largest
    for size, printed in code.conductors.area_cmil.value.items():
        mils = 1000 * conductor.diameter_mm(size) / 25.4
        assert mils**2 == pytest.approx(printed, rel=0.0008), size


@EVERY_PROFILE
def test_grounding_conductors_never_shrink_as_the_device_grows(code: CodeProfile) -> None:
    for bands in code.overcurrent.grounding.value.values():
        for lower, higher in pairwise(bands):
            assert lower.upto < higher.upto
            areas = code.conductors.area_cmil.value
            assert areas[lower.value] < areas[higher.value]


@EVERY_PROFILE
def test_a_wider_supply_band_holds_the_narrower(code: CodeProfile) -> None:
    for (nominal_v, place, band), rule in code.voltage.supply.items():
        assert rule.value.low_v < nominal_v < rule.value.high_v
        wide = code.voltage.supply[nominal_v, place, "B"].value
        assert wide.low_v <= rule.value.low_v, (nominal_v, place, band)
        assert wide.high_v >= rule.value.high_v, (nominal_v, place, band)
