"""Cables and raceways of the codes, against the tables that know them by name."""

import pytest

from checks.codes import PROFILES
from checks.codes.profile import CodeProfile

EACH = pytest.mark.parametrize("code", PROFILES.values(), ids=lambda code: code.name)


@EACH
def test_the_tables_speak_of_cables_that_the_code_knows(code: CodeProfile) -> None:
    tables = code.conductors
    named = {*tables.cable_cap_c, *tables.insulated_cap_c, *tables.insulated_rating_c}

    assert named <= set(code.methods)


@EACH
def test_every_cable_holds_insulation_that_the_code_rates(code: CodeProfile) -> None:
    for name, method in code.methods.items():
        letters = () if method.letters is None else method.letters.value
        assert set(letters) <= set(code.conductors.insulation_c), name


@EACH
def test_what_has_a_column_of_cover_has_it_for_every_place(code: CodeProfile) -> None:
    for name, method in code.methods.items():
        columns = {method.cover} - {""}
        assert all(columns <= set(r.value) for r in code.installation.cover_m.values()), name


@EACH
def test_what_may_not_be_wet_is_not_buried(code: CodeProfile) -> None:
    for name, method in code.methods.items():
        assert not (method.cover and (method.dry or method.above_ground)), name


def test_a_name_says_the_same_under_every_code() -> None:
    words = {(n, m.words) for code in PROFILES.values() for n, m in code.methods.items()}

    assert len(words) == len({name for name, _ in words})


def test_each_code_has_its_cables_and_both_have_the_raceways() -> None:
    # NEC 2023 articles 320, 330, 334, 338, 340; CE Code table 19, from memory
    american, canadian = (set(PROFILES[name].methods) for name in ("nec_2023", "cec_2021"))

    assert american - canadian == {"NM", "UF", "MC", "SE", "AC"}
    assert canadian - american == {"NMD90", "NMWU", "AC90", "ACWU90", "TECK90"}
    assert american & canadian == {"RMC", "EMT", "PVC", "FMC", "LFMC", "LFNC", "ENT"}
