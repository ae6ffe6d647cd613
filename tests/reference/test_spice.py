"""ngspice itself, run on the netlists whose numbers the reference rows rest on."""

import pytest

from tests.reference import spice
from tests.reference.case import Case


@pytest.mark.parametrize("case", spice.CASES, ids=lambda case: case.document)
def test_agrees_with_ngspice(case: Case) -> None:
    assert case.agrees(), f"{case.document}: {case.actual()} instead of {case.expected}"


@pytest.mark.parametrize("name", spice.NAMES)
def test_ngspice_says_today_what_the_reference_rows_rest_on(name: str) -> None:
    try:
        found = spice.solved(name)
    except spice.NoSpiceError as missing:
        pytest.fail(str(missing), pytrace=False)

    assert found == pytest.approx(spice.recorded(name), abs=2e-3)


def test_without_ngspice_the_test_fails_with_one_line_that_says_what_to_install(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PATH", "")

    with pytest.raises(spice.NoSpiceError, match="ngspice is missing: sudo apt-get install"):
        spice.solved("pilot_peaks")
    with pytest.raises(pytest.fail.Exception, match="apt-get install"):
        test_ngspice_says_today_what_the_reference_rows_rest_on("pilot_peaks")
