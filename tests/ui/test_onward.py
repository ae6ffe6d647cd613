"""Which key is the strongest: mending comes before a load where something grave stands."""

from types import SimpleNamespace
from typing import cast

import pytest

from tests.ui import driver  # noqa: F401  before Kivy: it chooses the window

from checks import codes  # isort: skip
from checks.assess import assess
from checks.check import CircuitState
from checks.verdict import Severity
from fieldapp.screens.onward import is_work_first
from fieldapp.walk.agenda import Step
from fieldapp.walk.visit import Walk
from tests.builders import POINT
from tests.sound_visits import built

ROWS = assess(built("receptacle", {}), codes.profile("nec_2023"))


def coming(check: str) -> Step:
    return Step(ROWS.row(check, POINT))


@pytest.mark.parametrize(
    ("next_step", "is_first"),
    [
        (coming("outlet.loaded_voltage"), False),  # offered only where the gate still stands open
        (CircuitState.UNDER_LOAD, True),
        (CircuitState.ENERGISED, True),
        (coming("outlet.damage"), False),
        (CircuitState.DEAD, False),
    ],
)
def test_a_warning_lets_nothing_be_loaded_by_the_strongest_key(
    next_step: Step | CircuitState, is_first: bool
) -> None:
    """ANSI Z535, as the design has it: warning, do not use until mended."""
    for found, first in ((Severity.WARNING, is_first), (Severity.CAUTION, False)):
        walk = SimpleNamespace(next_step=next_step, severities=frozenset({found}))
        assert is_work_first(cast("Walk", walk), [found]) is first
