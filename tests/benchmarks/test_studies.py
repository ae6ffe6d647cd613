"""A seeded tenth of each study: the aims hold.

The whole: ``python -m tests.benchmarks.study_hidden_resistance --n 2000``,
``python -m tests.benchmarks.study_heat_forecast --n 2000`` and
``python -m tests.benchmarks.study_causes --n 1000``.
"""

import ast
from pathlib import Path

import pytest

from tests.benchmarks import study_causes, study_heat_forecast, study_hidden_resistance

HERE = Path(__file__).parent


def test_hidden_resistance() -> None:
    seed = study_hidden_resistance.SCORED_SEED
    outcomes = study_hidden_resistance.study(200, seed, draws=5_000)  # more where they are too few
    found = study_hidden_resistance.figures(outcomes)
    print(study_hidden_resistance.table(outcomes, seed))

    assert found.held >= 93
    assert found.width_median <= 1.3
    assert found.width_over <= 10
    assert found.wrong_leg < 0.5
    assert found.named >= 70
    assert found.false_alarms < 2


def test_heat_forecast() -> None:
    seed = study_heat_forecast.SCORED_SEED
    outcomes = study_heat_forecast.study(200, seed)
    found = study_heat_forecast.figures(outcomes)
    print(study_heat_forecast.table(outcomes, seed))

    assert found.above < 5
    assert found.early >= 80
    assert found.below_last == 0
    assert found.false_signs < 1


def test_causes() -> None:
    seed = study_causes.SCORED_SEED
    outcomes = study_causes.study(100, seed, worlds=300)
    found = study_causes.figures(outcomes)
    print(study_causes.table_of(outcomes, seed))

    beyond, standard_error = study_causes.surplus_over_aim(outcomes)
    assert beyond >= -2 * standard_error, "these cases refute the aim of 95 % of the reader's"
    assert found.third >= 0.9
    # a hundred cases in ten bins: the reader, who is calibrated, shows what chance alone makes
    assert found.calibration_error <= 0.05 + found.reader_error
    assert study_causes.against_optimum(8, seed + 3) <= 1.3


@pytest.mark.parametrize(
    "name",
    [
        "circuits",
        "readings_monte_carlo",
        "heating_curves",
        "service_calls",
        "service_call_readings",
        "service_call_reader",
    ],
)
def test_generator_and_yardstick_import_nothing_of_the_project(name: str) -> None:
    tree = ast.parse((HERE / f"{name}.py").read_text(encoding="utf-8"))
    modules = {
        each
        for node in ast.walk(tree)
        for each in (
            [node.module or ""]
            if isinstance(node, ast.ImportFrom)
            else [alias.name for alias in node.names]
            if isinstance(node, ast.Import)
            else []
        )
    }

    assert not [each for each in modules if each.split(".")[0] in ("checks", "fieldapp")]
