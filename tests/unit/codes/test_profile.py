import pytest

from checks.codes import PROFILES, profile
from checks.codes.profile import Band, Threshold
from checks.codes.table import band, row
from checks.errors import ChecksError, OutOfTableError
from checks.source import Source, trade

SOURCE: Source = trade("an example")


def test_an_unknown_profile_is_refused_with_those_that_exist() -> None:
    with pytest.raises(ChecksError, match=r"'nec_1999'.*Use nec_2023"):
        profile("nec_1999")


def test_a_profile_goes_by_its_own_name() -> None:
    assert all(profile(name).name == name for name in PROFILES)


def test_a_threshold_is_passed_only_beyond_it_unless_it_is_included() -> None:
    assert not Threshold(60.0).is_passed_by(60.0)
    assert Threshold(60.0).is_passed_by(60.1)
    assert Threshold(60.0, is_included=True).is_passed_by(60.0)


def test_a_row_outside_the_table_is_refused() -> None:
    with pytest.raises(OutOfTableError, match=r"no row for size 5 AWG.*Use one of 6 AWG, 4 AWG"):
        row({"6 AWG": 1, "4 AWG": 2}, "5 AWG", what="size", source=SOURCE)


def test_a_band_includes_its_upper_end_and_the_table_ends_with_the_last() -> None:
    bands = (Band(30, "low"), Band(40, "high"))

    assert band(bands, 30, what="ambient", source=SOURCE) == "low"
    assert band(bands, 30.1, what="ambient", source=SOURCE) == "high"
    with pytest.raises(OutOfTableError, match=r"ends at 40, and ambient is 40.5"):
        band(bands, 40.5, what="ambient", source=SOURCE)
