"""The yardstick: an exhaustive Bayes reader of the simulated service calls.

It knows the simulation itself: it draws worlds of every cause, and weighs each by how well it
explains what was found. Imports nothing of the project but the simulation.
"""

import numpy as np

from tests.benchmarks.service_call_readings import Found
from tests.benchmarks.service_calls import (
    CAUSES,
    COPPER_75,
    SHARES,
    WIRE,
    Rng,
    World,
    make_world,
)


class Reader:
    """Knows the simulation: worlds of every cause drawn, each weighed by what was found.

    Parameters
    ----------
    rng : Generator
        Another stream than the cases'.
    worlds : int
        How many of each cause.
    """

    def __init__(self, rng: Rng, worlds: int) -> None:
        self.worlds = {c: [make_world(rng, c) for _ in range(worlds)] for c in CAUSES}
        self.numbers: dict[str, dict[str, tuple[np.ndarray, np.ndarray]]] = {}
        self.odds: dict[str, dict[str, dict[str, np.ndarray]]] = {}
        for cause, drawn in self.worlds.items():
            self.numbers[cause] = {
                n: (
                    np.array([w.numbers[n].mean for w in drawn]),
                    np.array([w.numbers[n].sd for w in drawn]),
                )
                for n in drawn[0].numbers
            }
            self.odds[cause] = {
                n: {o: np.array([w.odds[n].get(o, 1e-6) for w in drawn]) for o in drawn[0].odds[n]}
                for n in drawn[0].odds
            }
            surplus = np.array([w.numbers["branch_ohm"].mean - metal_ohm(w) for w in drawn])
            metal = np.array([metal_ohm(w) * w.charger_a / volts_of(w) for w in drawn])
            sd = np.array(
                [np.hypot(w.numbers["branch_ohm"].sd, 0.03 * metal_ohm(w)) for w in drawn]
            )
            self.numbers[cause]["surplus_ohm"] = (surplus, sd)
            self.numbers[cause]["metal_share"] = (metal, np.full(len(drawn), 0.004))
            self.odds[cause]["level"] = {
                str(k): np.array([0.999 if w.level == k else 0.001 for w in drawn]) for k in (1, 2)
            }

    def posterior(self, world: World, made: dict[str, Found]) -> dict[str, float]:
        """Shares of the causes, given the installation's data and what was found."""
        found = statistics(world, made)
        logs = {}
        for cause in CAUSES:
            total = np.zeros(len(self.worlds[cause]))
            for name, value in found.items():
                total += self._log(cause, name, value)
            top = total.max()
            logs[cause] = top + np.log(np.exp(total - top).mean()) + np.log(SHARES[cause])
        best = max(logs.values())
        masses = {c: float(np.exp(v - best)) for c, v in logs.items()}
        whole = sum(masses.values())
        return {c: m / whole for c, m in masses.items()}

    def _log(self, cause: str, name: str, value: float | str) -> np.ndarray:
        if isinstance(value, str):
            return np.log(np.maximum(self.odds[cause][name].get(value, 1e-6), 1e-6))
        mean, sd = self.numbers[cause][name]
        wide = np.maximum(sd, WIDE.get(name, 0.0))  # so that a few hundred worlds cover the range
        return -0.5 * ((value - mean) / wide) ** 2 - np.log(wide)


WIDE = {
    "surplus_ohm": 0.004,
    "metal_share": 0.006,
    "panel_air": 2.0,
    "device_ma": 0.25,
    "insulation_log": 0.3,
    "other_a": 1.0,
    "pilot_b": 0.1,
    "pilot_c": 0.1,
    "pilot_a": 0.1,
    "pilot_negative": 0.1,
    "offer_ratio": 0.03,
    "draw_ratio": 0.03,
    "nameplate_ratio": 0.05,
    "prox_free": 15.0,
    "face_over": 1.5,
}


def metal_ohm(world: World) -> float:
    """At 40 °C, which no run is far from."""
    warmth = 1 + COPPER_75 * (40 - 75)
    return 2 * world.length_m * WIRE[world.size] / 1000 * warmth


def volts_of(world: World) -> float:
    return 120.0 if world.level == 1 else 240.0


def statistics(world: World, made: dict[str, Found]) -> Found:
    """What was found, with the installation's own size taken out."""
    found = {name: value for of in made.values() for name, value in of.items()}
    found["level"] = str(world.level)
    if "branch_ohm" in found:
        found["surplus_ohm"] = float(found.pop("branch_ohm")) - metal_ohm(world)
        found["metal_share"] = metal_ohm(world) * world.charger_a / volts_of(world)
    for name in ("supply_ohm", "volts"):
        found.pop(name, None)  # the same whatever the cause
    return found
