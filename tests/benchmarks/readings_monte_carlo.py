"""What the readings of a case call for: the excess given all of them, by sequential Monte Carlo.

Knows the data sheets and the ranges, not the truth. Every draw carries its own meters, supply and
resistances through the readings in their order; a draw that could not have shown what was read is
dropped, and those that are left are drawn again. Imports nothing of the project.
"""

import numpy as np

from tests.benchmarks.circuits import COPPER_75, KFT_M, RANGES, WIRE, Case, Read, Rng

COS_30 = 3**0.5 / 2


def excess_draws(rng: Rng, case: Case, size: int) -> tuple[np.ndarray, int]:
    """Draws of the excess, and how many different first draws they descend from."""
    draws = _Draws(rng, case, size)
    try:
        branch_ohm = draws.run()
    except NoDrawLeftError:
        return np.zeros(0), 0
    return branch_ohm - metal_draws(rng, case, len(branch_ohm)), draws.ancestors


def metal_draws(rng: Rng, case: Case, size: int) -> np.ndarray:
    """Draws of what the metal explains."""
    within, metal = case.length_within, RANGES["metal, relative, uniform"]
    air_k = RANGES["air along the run, K, uniform"]
    share = rng.uniform(*RANGES["share of the table's rise, uniform"], size)
    low, high = np.log(RANGES["time constant of the conductor, min, log-uniform"])
    tau = np.exp(rng.uniform(low, high, size))
    steady_k = 45 * (case.full_a / WIRE[case.size][2]) ** 2 * share
    air_c = case.ambient_c + rng.uniform(-0.5, 0.5, size) + rng.uniform(-air_k, air_k, size)
    metal_c = air_c + steady_k * (1 - np.exp(-case.minutes / tau))
    length_m = case.length_m / (1 + rng.uniform(-within, within, size))
    one_way = WIRE[case.size][0] / KFT_M * length_m * (1 + COPPER_75 * (metal_c - 75))
    return 2 * one_way * (1 + rng.uniform(-metal, metal, size))


class NoDrawLeftError(Exception):
    """None of the draws could have shown these readings; more are needed."""


class _Draws:
    """State of all draws: one array for each thing that is not known.

    ``emf first``, ``emf second``, ``emf both``: volts without load, walking; ``outlet first`` and
    so on: resistance up to there on that conductor, flat before it is met.
    """

    def __init__(self, rng: Rng, case: Case, size: int) -> None:
        self.rng, self.case, self.size = rng, case, size
        low, high = np.log(RANGES["walk of a leg, V per root minute, log-uniform"])
        self.state = {
            "walk": np.exp(rng.uniform(low, high, size)),
            "gain 0": rng.uniform(-1, 1, size) * case.meters[0].percent / 100,
            "gain 1": rng.uniform(-1, 1, size) * case.meters[1].percent / 100,
            "clamp": rng.uniform(-1, 1, size) * case.clamp.percent / 100,
            "ancestor": np.arange(size),
        }
        self.at_s = dict.fromkeys(("first", "second", "both"), 0.0)
        self.has_legs = "legs" in case.plan
        self.part = COS_30 if case.kind == "wye" else 1.0
        self.last_s = max(r.at_s for r in case.reads)

    @property
    def ancestors(self) -> int:
        return len(np.unique(self.state["ancestor"]))

    def run(self) -> np.ndarray:
        """Loop resistance of the branch."""
        visit = -1
        for read in self.case.reads:
            if read.visit != visit:
                visit = read.visit
                self.state["amps"] = self._amps(read)
            if not self.has_legs or (read.between != "both"):
                self._conductor(read)
            else:
                self._both(read)
        s = self.state
        names = ("first", "second") if self.has_legs else ("both",)
        outlet = sum(s[f"outlet {name}"] for name in names)
        if not any(f"panel {name}" in s for name in names):
            supply = RANGES["supply loop to the panel, mΩ, uniform"]
            return outlet - self.rng.uniform(*supply, self.size) / 1e3
        return outlet - sum(s.get(f"panel {name}", 0.0) for name in names)

    def _amps(self, read: Read) -> np.ndarray:
        if not read.current_a:
            return np.zeros(self.size)
        limit = self.case.clamp.counts * self.case.clamp.digit
        shown = read.current_a - self.rng.uniform(-limit, limit, self.size)
        return shown / (1 + self.state["clamp"])

    def _limit(self, read: Read) -> float:
        meter = self.case.meters[read.meter]
        return meter.counts * meter.digit

    def _drawn(self, read: Read) -> np.ndarray:
        """True volts that could have shown this."""
        limit = self._limit(read)
        shown = read.volts - self.rng.uniform(-limit, limit, self.size)
        return shown / (1 + self.state[f"gain {read.meter}"])

    def _keep(self, read: Read, volts: np.ndarray) -> None:
        """Keep the draws whose volts could have shown this, and draw again among them."""
        shown = volts * (1 + self.state[f"gain {read.meter}"])
        kept = np.flatnonzero(np.abs(read.volts - shown) <= self._limit(read))
        if not len(kept):
            raise NoDrawLeftError
        again = kept[np.arange(self.size) % len(kept)]
        self.state = {name: values[again] for name, values in self.state.items()}

    def _moved(self, minutes: float, legs: float) -> np.ndarray:
        rng = self.rng
        moved = rng.normal(size=self.size) * self.state["walk"] * np.sqrt(minutes * legs)
        share, sizes = RANGES["step of another load on one leg"]
        chance = legs * share / 2 * minutes * 60 / self.last_s
        step = rng.choice([-1, 1], self.size) * rng.uniform(*sizes, self.size)
        return moved + (rng.uniform(size=self.size) < chance) * step

    def _go(self, name: str, at_s: float) -> None:
        """Let the volts of a leg walk on; those between two legs of a wye walk with it."""
        legs = 1.0
        if name == "both":
            legs = 1.0 if self.case.kind == "single" else 2 * self.part**2
        if name == "second" and self.case.kind == "single":
            return
        moved = self._moved((at_s - self.at_s[name]) / 60, legs)
        self.at_s[name] = at_s
        if f"emf {name}" in self.state:
            self.state[f"emf {name}"] = self.state[f"emf {name}"] + moved
        if self.has_legs and "emf both" in self.state:
            self.state["emf both"] = self.state["emf both"] + self.part * moved

    def _conductor(self, read: Read) -> None:
        """A conductor's own volts: new resistances absorb what is read, known ones foretell it."""
        name, s = read.between, self.state
        self._go(name, read.at_s)
        is_neutral = self.case.kind == "single" and name == "second"
        if is_neutral and "emf second" not in s:
            s["emf second"] = np.zeros(self.size)
        if f"emf {name}" not in s:
            s[f"emf {name}"] = self._drawn(read)
            return
        key, part = f"{read.place} {name}", self.part if self.has_legs else 1.0
        sign = -1.0 if is_neutral else 1.0
        if not s["amps"].any():
            self._keep(read, sign * s[f"emf {name}"])
        elif key in s:
            self._keep(read, sign * (s[f"emf {name}"] - part * s[key] * s["amps"]))
        else:
            s[key] = (s[f"emf {name}"] - sign * self._drawn(read)) / (part * s["amps"])

    def _both(self, read: Read) -> None:
        """The volts between both conductors, foretold by each one's."""
        self._go("first", read.at_s)
        self._go("second", read.at_s)
        s = self.state
        if self.case.kind == "wye" and "emf both" not in s:
            s["emf both"] = self._drawn(read)
            return
        emf = (
            s["emf both"] if self.case.kind == "wye" else s["emf first"] + s.get("emf second", 0.0)
        )
        ohm = s.get(f"{read.place} first", 0.0) + s.get(f"{read.place} second", 0.0)
        self._keep(read, emf - ohm * s["amps"])
