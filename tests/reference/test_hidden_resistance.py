"""The fit of a load test against numpy, and against circuits solved by nodal analysis.

Sources of the circuit: Kirchhoff's laws; wire of NEC 2023 chapter 9 tables 8 and 9 as typed in
tests/benchmarks/circuits.py.
"""

import numpy as np
import pytest

from checks.electrical.least_squares import apply, estimator, log_evidence
from checks.electrical.load_fit import load_line
from checks.electrical.load_line import Between, Circuit, LoadReading, Place
from checks.quantity import nominal
from tests.benchmarks.circuits import Network

RNG = np.random.default_rng(20_260_304)
BETWEEN = {"both": Between.BOTH, "first": Between.FIRST, "second": Between.SECOND}
KIND = {"split": Circuit.SPLIT, "wye": Circuit.WYE, "single": Circuit.SINGLE}


def test_generalized_least_squares_agrees_with_numpy() -> None:
    model, root = RNG.normal(size=(9, 3)), RNG.normal(size=(9, 9))
    errors, readings = root @ root.T, RNG.normal(size=9)
    weight = np.linalg.inv(errors)
    normal = model.T @ weight @ model
    expected = np.linalg.solve(normal, model.T @ weight @ readings)
    left = readings - model @ expected
    likelihood = -0.5 * (
        np.linalg.slogdet(errors)[1] + np.linalg.slogdet(normal)[1] + left @ weight @ left
    )
    found = estimator(model.tolist(), errors.tolist())

    assert apply(found, readings.tolist()) == pytest.approx(expected)
    assert log_evidence(model.tolist(), errors.tolist(), readings.tolist()) == pytest.approx(
        likelihood
    )


def test_load_steps_agree_with_a_straight_line_of_numpy() -> None:
    amps = np.array([0.0, 8.0, 16.0, 24.0, 32.0])
    volts = 241.0 - 0.21 * amps + RNG.normal(size=5) * 0.05
    readings = [
        LoadReading(Place.OUTLET, Between.BOTH, 0.0, float(v), float(a))
        for v, a in zip(volts, amps, strict=True)
    ]
    slope = np.polyfit(amps, volts, 1)[0]

    # the fit lets the supply walk from step to step, numpy does not: close, not equal
    assert nominal(load_line(Circuit.SPLIT, readings).outlet.loop_ohm) == pytest.approx(
        -slope, abs=0.004
    )


@pytest.mark.parametrize("kind", ["split", "wye", "single"])
@pytest.mark.parametrize("joints", [(0.0, 0.0), (0.05, 0.0), (0.004, 0.06)])
def test_a_circuit_solved_by_nodal_analysis(kind: str, joints: tuple[float, float]) -> None:
    angle = np.pi if kind != "wye" else -2 * np.pi / 3
    network = Network(
        kind,
        (120.0 + 0j, 119.0 * np.exp(1j * angle)),
        (0.02 + 0.01j, 0.025 + 0.01j, 0.02 + 0.01j),
        (8.0, 3.0),
        (0.04 + joints[0], 0.04 + joints[1]),
        0.0,
    )
    emf = network.emf
    readings = []
    for visit, (place, amps) in enumerate(
        (("outlet", 0.0), ("panel", 0.0), ("panel", 32.0), ("outlet", 32.0), ("panel", 32.0))
    ):
        for between in BETWEEN:
            if kind == "single" and (place, between) == ("panel", "second"):
                continue
            volts = network.volts(place, between, emf, amps)
            readings.append(LoadReading(Place(place), BETWEEN[between], 60.0 * visit, volts, amps))
    branch = load_line(KIND[kind], readings).branch

    # no reactance in the run and unity power factor: what is left is the turn of the legs' phase
    assert nominal(branch.loop_ohm) == pytest.approx(0.08 + sum(joints), abs=0.0005)
    for found, joint in zip(branch.legs_ohm, joints, strict=True):
        assert nominal(found) == pytest.approx(0.04 + joint, abs=0.0005)
