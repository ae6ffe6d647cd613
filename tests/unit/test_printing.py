"""What the commands print for people."""

import pytest

from checks.trends import trends
from fieldapp.cli.printing import print_json, print_trends
from tests.unit.test_trends import seen


def test_a_minus_is_a_sign_for_people_and_a_hyphen_for_machines(
    capsys: pytest.CaptureFixture[str],
) -> None:
    found = trends(seen(2025, "2.00"), [seen(2024, "3.00"), seen(2023, "4.00")])
    print_trends(found)
    told = capsys.readouterr().out
    assert "; −1.0" in told
    assert "on 2023-06-02" in told
    print_json([each.model_dump(mode="json") for each in found])
    assert "; -1.0" in capsys.readouterr().out
