"""Random charging circuits with known joints, solved by nodal analysis, and read by random meters.

Imports nothing of the project. The ranges and the shapes of all errors stand in ``RANGES`` and in
the functions below; they were fixed before the scored runs.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np

Rng = np.random.Generator

# NEC 2023 chapter 9 table 8 (stranded, uncoated copper, 75 °C) and table 9 (PVC), Ω/1000 ft;
# table 310.16, 75 °C column, A.
WIRE = {
    "14 AWG": (3.14, 0.058, 20.0),
    "12 AWG": (1.98, 0.054, 25.0),
    "10 AWG": (1.24, 0.050, 35.0),
    "8 AWG": (0.778, 0.052, 50.0),
    "6 AWG": (0.491, 0.051, 65.0),
    "4 AWG": (0.308, 0.048, 85.0),
}
KFT_M = 304.8
COPPER_75 = 0.00323  # per kelvin at 75 °C, note 2 of table 8

RANGES: dict[str, Any] = {
    "kind": {"split": 0.6, "wye": 0.2, "single": 0.2},
    "full current, A": {
        "14 AWG": (12.0,),
        "12 AWG": (12.0, 16.0),
        "10 AWG": (16.0, 24.0),
        "8 AWG": (32.0, 40.0),
        "6 AWG": (32.0, 40.0, 48.0),
        "4 AWG": (48.0, 64.0),
    },
    "length, m, log-uniform": (5.0, 60.0),
    "length known within": {"tape": (0.02, 0.6), "estimate": (0.10, 0.4)},
    "metal, relative, uniform": 0.02,
    "air at the outlet, °C, uniform": (0.0, 35.0),
    "air along the run, K, uniform": 8.0,
    "share of the table's rise, uniform": (0.35, 1.0),
    "time constant of the conductor, min, log-uniform": (4.0, 25.0),
    "time under load, min, uniform": (5.0, 40.0),
    "supply loop to the panel, mΩ, uniform": (10.0, 100.0),
    "legs of the supply differ by up to, mΩ": 10.0,
    "reactance of the supply, of its resistance": (0.3, 1.5),
    "volts of a leg, relative, uniform": 0.04,
    "household load on a leg, A, uniform": (0.0, 25.0),
    "power factor at least": 0.985,
    "terminal, mΩ": (0.1, 0.5),
    "blade in a contact, mΩ": (0.5, 2.0),
    "by receptacle": 0.6,
    "faulty": 0.5,
    "joint, mΩ, log-uniform": {"two legs": (3.0, 80.0), "single": (5.0, 300.0)},
    "second joint on the other conductor": (0.10, (1.0, 20.0)),
    "volt meter (%, counts, digit V, share)": (
        (0.5, 2, 0.1, 0.15),
        (0.7, 2, 0.1, 0.15),
        (1.0, 3, 0.1, 0.40),
        (1.5, 5, 0.1, 0.10),
        (0.3, 5, 0.01, 0.20),
    ),
    "clamp (%, counts, digit A, share)": (
        (1.5, 3, 0.1, 0.3),
        (2.0, 5, 0.1, 0.5),
        (3.0, 5, 0.1, 0.2),
    ),
    "two volt meters": 0.15,
    "readings": {
        "panel, outlet and panel again, legs": 0.35,
        "panel and outlet, legs": 0.10,
        "panel and outlet": 0.20,
        "outlet, legs": 0.10,
        "outlet": 0.05,
        "two steps, legs": 0.20,
    },
    "between places, s, uniform": (40.0, 150.0),
    "between two readings at a place, s, uniform": (4.0, 15.0),
    "walk of a leg, V per root minute, log-uniform": (0.02, 0.3),
    "step of another load on one leg": (0.10, (0.3, 2.0)),
    "vehicle tapers between panel and outlet": (0.10, (0.02, 0.10)),
}


@dataclass
class Meter:
    """What a data sheet says; its true gain error is hidden from who reads it."""

    percent: float
    counts: int
    digit: float
    gain: float

    def read(self, rng: Rng, true: float) -> float:
        """Within its specification: counts and rounding together stay below the counts."""
        own = rng.uniform(-1, 1) * (self.counts - 0.5) * self.digit
        return round((true * (1 + self.gain) + own) / self.digit) * self.digit


@dataclass
class Read:
    """One voltage as the meter showed it."""

    visit: int
    place: str
    between: str
    at_s: float
    volts: float
    meter: int
    current_a: float  # as the clamp showed it; 0 without load


@dataclass
class Case:
    """A circuit, what was read there, and what is true."""

    kind: str
    size: str
    length_m: float
    length_within: float
    ambient_c: float
    minutes: float
    full_a: float
    terminals: int
    contacts: int
    meters: list[Meter]
    clamp: Meter
    plan: str
    reads: list[Read]
    excess_ohm: float = 0.0
    legs_ohm: tuple[float, float] = (0.0, 0.0)
    is_faulty: bool = False
    hidden: dict[str, float] = field(default_factory=dict)


def pick(rng: Rng, shares: dict[str, float]) -> str:
    return str(rng.choice(list(shares), p=list(shares.values())))


def log_uniform(rng: Rng, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


# -- nodal analysis --------------------------------------------------------------------------------
@dataclass
class Network:
    """Two source legs, service conductors, panel with household loads, run, load at the outlet.

    Nodes: 0 source neutral (reference), 1 panel leg 1, 2 panel leg 2, 3 panel neutral, 4 outlet
    conductor 1, 5 outlet conductor 2 (the neutral at Level 1). Ground is bonded to the neutral at
    the panel and carries no current.
    """

    kind: str
    emf: tuple[complex, complex]
    service: tuple[complex, complex, complex]  # leg 1, leg 2, neutral
    household: tuple[float, float]
    run: tuple[complex, complex]
    power_angle: float

    def solve(self, emf: tuple[complex, complex], current_a: float) -> dict[str, complex]:
        """Volts of every node, the load drawing a current of this size from what it sees."""
        matrix = np.zeros((5, 5), complex)

        def branch(a: int, b: int, admittance: complex) -> None:
            for node in (a, b):
                if node:
                    matrix[node - 1, node - 1] += admittance
            if a and b:
                matrix[a - 1, b - 1] -= admittance
                matrix[b - 1, a - 1] -= admittance

        far = 3 if self.kind == "single" else 2
        branch(1, 0, 1 / self.service[0])
        branch(2, 0, 1 / self.service[1])
        branch(3, 0, 1 / self.service[2])
        branch(1, 3, self.household[0] / 120)
        branch(2, 3, self.household[1] / 120)
        branch(4, 1, 1 / self.run[0])
        branch(5, far, 1 / self.run[1])
        injected = np.zeros(5, complex)
        injected[0] = emf[0] / self.service[0]
        injected[1] = emf[1] / self.service[1]
        volts = np.linalg.solve(matrix, injected)
        for _ in range(4 if current_a else 0):
            seen = volts[3] - volts[4]
            load = current_a * seen / abs(seen) * np.exp(1j * self.power_angle)
            drawn = injected.copy()
            drawn[3] -= load
            drawn[4] += load
            volts = np.linalg.solve(matrix, drawn)
        names = ("panel 1", "panel 2", "neutral", "outlet 1", "outlet 2")
        return dict(zip(names, volts, strict=True))

    def volts(
        self, place: str, between: str, emf: tuple[complex, complex], current_a: float
    ) -> float:
        """What a perfect meter reads."""
        at = self.solve(emf, current_a)
        first = at[f"{place} 1"]
        second = at[f"{place} 2"]
        if place == "panel" and self.kind == "single":
            second = at["neutral"]
        ends = {
            "both": (first, second),
            "first": (first, at["neutral"]),
            "second": (second, at["neutral"]),
        }
        a, b = ends[between]
        return float(abs(a - b))


# -- one case --------------------------------------------------------------------------------------
def make_case(rng: Rng) -> Case:
    kind = pick(rng, RANGES["kind"])
    sizes = ("14 AWG", "12 AWG") if kind == "single" else ("10 AWG", "8 AWG", "6 AWG", "4 AWG")
    size = str(rng.choice(sizes))
    full_a = float(rng.choice(RANGES["full current, A"][size]))
    length_m = log_uniform(rng, *RANGES["length, m, log-uniform"])
    bases = RANGES["length known within"]
    within = bases[pick(rng, {name: share for name, (_, share) in bases.items()})][0]
    plan = pick(rng, RANGES["readings"])
    minutes = rng.uniform(*RANGES["time under load, min, uniform"])
    ambient_c = rng.uniform(*RANGES["air at the outlet, °C, uniform"])
    case = Case(
        kind,
        size,
        round(length_m * (1 + rng.uniform(-within, within)), 1),
        within,
        float(round(ambient_c)),
        minutes,
        full_a,
        4,
        0 if kind != "single" and rng.uniform() > RANGES["by receptacle"] else 2,
        [_meter(rng, "volt meter (%, counts, digit V, share)") for _ in range(2)],
        _meter(rng, "clamp (%, counts, digit A, share)"),
        plan,
        [],
    )
    network = _network(rng, case, length_m, _metal_c(rng, case, ambient_c))
    _read_all(rng, case, network)
    return case


def _meter(rng: Rng, what: str) -> Meter:
    rows = RANGES[what]
    percent, counts, digit, _ = rows[rng.choice(len(rows), p=[row[3] for row in rows])]
    return Meter(percent, counts, digit, rng.uniform(-1, 1) * percent / 100)


def _metal_c(rng: Rng, case: Case, ambient_c: float) -> float:
    air_k = RANGES["air along the run, K, uniform"]
    share = rng.uniform(*RANGES["share of the table's rise, uniform"])
    tau = log_uniform(rng, *RANGES["time constant of the conductor, min, log-uniform"])
    steady_k = 45 * (case.full_a / WIRE[case.size][2]) ** 2 * share
    air_c = ambient_c + rng.uniform(-air_k, air_k)
    return float(air_c + steady_k * (1 - np.exp(-case.minutes / tau)))


def _network(rng: Rng, case: Case, length_m: float, metal_c: float) -> Network:
    ohm, reactance, _ = WIRE[case.size]
    metal = RANGES["metal, relative, uniform"]
    one_way = ohm / KFT_M * length_m * (1 + COPPER_75 * (metal_c - 75))
    one_way *= 1 + rng.uniform(-metal, metal)
    joints = _joints(rng, case)
    x_ohm = reactance / KFT_M * length_m
    run = (one_way + joints[0] + 1j * x_ohm, one_way + joints[1] + 1j * x_ohm)
    case.legs_ohm, case.excess_ohm = joints, sum(joints)
    loop = rng.uniform(*RANGES["supply loop to the panel, mΩ, uniform"]) / 1000
    uneven = rng.uniform(-1, 1) * RANGES["legs of the supply differ by up to, mΩ"] / 1000
    ratio = rng.uniform(*RANGES["reactance of the supply, of its resistance"])
    first, second = max(loop + uneven, 0.004) / 2, max(loop - uneven, 0.004) / 2
    turn = 1 + 1j * ratio
    off = RANGES["volts of a leg, relative, uniform"]
    size = 120 * (1 + rng.uniform(-off, off))
    angle = np.pi if case.kind != "wye" else rng.choice([-1, 1]) * 2 * np.pi / 3
    emf = (size + 0j, size * (1 + rng.uniform(-0.01, 0.01)) * np.exp(1j * angle))
    power_angle = rng.uniform(-1, 1) * np.arccos(RANGES["power factor at least"])
    household = tuple(rng.uniform(*RANGES["household load on a leg, A, uniform"], 2))
    service = (first * turn, second * turn, loop / 2 * turn)
    return Network(case.kind, emf, service, household, run, power_angle)


def _joints(rng: Rng, case: Case) -> tuple[float, float]:
    ohms = [0.0, 0.0]
    for leg in (0, 1):
        ohms[leg] += rng.uniform(*RANGES["terminal, mΩ"], case.terminals // 2).sum()
        ohms[leg] += rng.uniform(*RANGES["blade in a contact, mΩ"], case.contacts // 2).sum()
    case.is_faulty = bool(rng.uniform() < RANGES["faulty"])
    if case.is_faulty:
        leg = int(rng.integers(2))
        sizes = RANGES["joint, mΩ, log-uniform"]
        ohms[leg] += log_uniform(rng, *sizes["single" if case.kind == "single" else "two legs"])
        share, range_mohm = RANGES["second joint on the other conductor"]
        if rng.uniform() < share:
            ohms[1 - leg] += log_uniform(rng, *range_mohm)
    return ohms[0] / 1000, ohms[1] / 1000


VISITS = {
    "panel, outlet and panel again": (
        ("outlet", 0.0),
        ("panel", 0.0),
        ("panel", 1.0),
        ("outlet", 1.0),
        ("panel", 1.0),
    ),
    "panel and outlet": (("outlet", 0.0), ("panel", 0.0), ("panel", 1.0), ("outlet", 1.0)),
    "outlet": (("outlet", 0.0), ("outlet", 1.0)),
    "two steps": (
        ("outlet", 0.0),
        ("panel", 0.0),
        ("panel", 0.5),
        ("outlet", 0.5),
        ("outlet", 1.0),
        ("panel", 1.0),
    ),
}


def _read_all(rng: Rng, case: Case, network: Network) -> None:
    visits = VISITS[case.plan.removesuffix(", legs")]
    betweens = ("first", "second", "both") if "legs" in case.plan else ("both",)
    times: list[list[float]] = []
    at_s = 0.0
    for _ in visits:
        times.append([])
        for _ in betweens:
            times[-1].append(at_s)
            at_s += rng.uniform(*RANGES["between two readings at a place, s, uniform"])
        at_s += rng.uniform(*RANGES["between places, s, uniform"])
    walk = _walk(rng, case, [t for visit in times for t in visit])
    has_two = rng.uniform() < RANGES["two volt meters"]
    taper, fall = RANGES["vehicle tapers between panel and outlet"]
    end = 1 - rng.uniform(*fall) if rng.uniform() < taper else 1.0
    step = 0
    for number, (place, load) in enumerate(visits):
        has_fallen = load and (place == "outlet" or number == len(visits) - 1)
        true_a = load * case.full_a * (end if has_fallen and load == 1.0 else 1.0)
        shown_a = case.clamp.read(rng, true_a) if true_a else 0.0
        meter = 1 if has_two and place == "panel" else 0
        for between, read_s in zip(betweens, times[number], strict=True):
            emf = tuple(
                e * (1 + d / abs(e)) for e, d in zip(network.emf, walk[:, step], strict=True)
            )
            if between == "second" and case.kind == "single" and place == "panel":
                step += 1
                continue  # neutral to ground where they are bonded
            true_v = network.volts(place, between, emf, true_a)
            shown = abs(case.meters[meter].read(rng, true_v))
            case.reads.append(Read(number, place, between, read_s, shown, meter, shown_a))
            step += 1


def _walk(rng: Rng, case: Case, times_s: list[float]) -> np.ndarray:
    """Movement of each leg's volts at each reading."""
    rate = log_uniform(rng, *RANGES["walk of a leg, V per root minute, log-uniform"])
    gaps = np.diff(times_s, prepend=times_s[0]) / 60
    walk = np.cumsum(rng.normal(size=(2, len(gaps))) * rate * np.sqrt(gaps), axis=1)
    share, sizes = RANGES["step of another load on one leg"]
    if rng.uniform() < share:
        after = np.array(times_s) > rng.uniform(0, times_s[-1])
        walk[rng.integers(2)] += after * rng.choice([-1, 1]) * rng.uniform(*sizes)
    case.hidden["walk"] = rate
    return walk
