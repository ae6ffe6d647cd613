"""Random service calls with a known cause: the physics makes what a technician sees and reads.

Imports nothing of the project. Circuit, thermal breaker, heat of joints, leakage and pilot circuit
are modeled here on their own; the ranges were fixed before the scored runs. A case is its causes,
what the installation is, and the distribution of everything that could be found there: a mean with
its meter's error, or the chance of each answer.
"""

from dataclasses import dataclass, field

import numpy as np

Rng = np.random.Generator

# How often each cause stands behind a call: the trade's shares of three kinds of calls (tripping,
# burnt, not charging or slow), of each kind alike. Judgement, no source.
SHARES = {
    "charger_set_high": 0.14,
    "shared_circuit": 0.10,
    "loose_at_breaker": 0.12,
    "worn_breaker": 0.07,
    "hot_panel": 0.05,
    "two_devices": 0.16,
    "moisture": 0.09,
    "vehicle_leakage": 0.06,
    "worn_ground_fault_device": 0.05,
    "loose_at_outlet": 0.24,
    "worn_contacts": 0.18,
    "long_run": 0.07,
    "vehicle_timer": 0.17,
    "vehicle_limit": 0.13,
    "low_setting": 0.10,
    "load_management": 0.06,
    "pilot_resistance": 0.07,
    "proximity_switch": 0.05,
    "ground_lost": 0.05,
}
CAUSES = tuple(SHARES)

# Ω/km at 75 °C and A in the 75 °C column: NEC 2023 chapter 9 table 8, table 310.16, copper.
WIRE = {"14 AWG": 10.3, "12 AWG": 6.50, "8 AWG": 2.551, "6 AWG": 1.608}
AMPACITY = {"14 AWG": 20, "12 AWG": 25, "8 AWG": 50, "6 AWG": 65}
COPPER_75 = 0.00323  # per kelvin at 75 °C, note 2 of table 8
# Level, breaker A, charger A (80 %), wire.
PLANTS = (
    (1, 15, 12, "14 AWG"),
    (1, 20, 16, "12 AWG"),
    (2, 40, 32, "8 AWG"),
    (2, 50, 40, "6 AWG"),
    (2, 60, 48, "6 AWG"),
)


@dataclass
class Number:
    """What a meter would show: mean and standard deviation."""

    mean: float
    sd: float


Odds = dict[str, float]  # chance of each answer


@dataclass
class World:
    """One installation with its fault.

    ``numbers`` and ``odds`` hold what could be found, by name; a name stands for one reading or
    one answer of one check.
    """

    cause: str
    level: int
    rated_a: int
    charger_a: float
    size: str
    length_m: float
    numbers: dict[str, Number] = field(default_factory=dict)
    odds: dict[str, Odds] = field(default_factory=dict)


@dataclass
class Fault:
    """What the cause changes in a sound installation."""

    other_a: float = 0.0  # load of others on the circuit
    has_others: bool = False
    hold_at_40: float = 1.15  # part of the rating that the breaker holds at 40 °C
    panel_c: float = 25.0
    breaker_joint_ohm: float = 0.0002
    outlet_joint_ohm: float = 0.0004
    contact_ohm: float = 0.001
    leak_ma: float = 1.5
    device_ma: float = 5.0
    has_second_device: bool = False
    wet_kohm: float = 1e6
    pilot_ohm: float = 0.0
    prox_free_ohm: float = 150.0
    is_ground_open: bool = False
    timer: bool = False
    offer_ratio: float = 1.0
    draw_ratio: float = 1.0
    nameplate_ratio: float = 1.0
    load_ratio: float = 1.0  # charger's setting over 80 % of the breaker


def log_uniform(rng: Rng, low: float, high: float) -> float:
    return float(np.exp(rng.uniform(np.log(low), np.log(high))))


def fault_of(rng: Rng, cause: str, is_level_1: bool) -> Fault:
    """The fault itself, and what is by chance beside it."""
    f = Fault(
        hold_at_40=float(np.clip(rng.normal(1.15, 0.04), 1.03, 1.25)),
        panel_c=float(np.clip(rng.normal(24.0, 7.0), 0.0, 40.0)),
        outlet_joint_ohm=rng.uniform(0.0002, 0.0008),
        contact_ohm=rng.uniform(0.0006, 0.002),
        leak_ma=rng.uniform(0.5, 3.0),
        device_ma=rng.uniform(4.4, 5.6),
        has_second_device=bool(rng.uniform() < 0.15),
        has_others=bool(rng.uniform() < (0.3 if is_level_1 else 0.05)),
        timer=bool(rng.uniform() < 0.2),
        nameplate_ratio=float(rng.choice([1.0, 1.25, 1.5], p=[0.85, 0.1, 0.05])),
    )
    f.other_a = rng.uniform(0.5, 2.5) if f.has_others else 0.0
    changes = {
        "charger_set_high": lambda: {"load_ratio": rng.choice([1.25, 1.5])},
        "shared_circuit": lambda: {"has_others": True, "other_a": 1.0},  # set where it trips
        "loose_at_breaker": lambda: {"breaker_joint_ohm": log_uniform(rng, 0.006, 0.05)},
        "worn_breaker": lambda: {"hold_at_40": rng.uniform(0.55, 0.72)},
        "hot_panel": lambda: {"panel_c": rng.uniform(72.0, 84.0), "hold_at_40": 1.02},
        "two_devices": lambda: {"has_second_device": True},
        "moisture": lambda: {"wet_kohm": log_uniform(rng, 3.0, 22.0)},
        "vehicle_leakage": lambda: {"leak_ma": rng.uniform(5.5, 12.0)},
        "worn_ground_fault_device": lambda: {
            "device_ma": rng.uniform(1.8, 3.4),
            "leak_ma": rng.uniform(3.4, 3.9),
        },
        "loose_at_outlet": lambda: {"outlet_joint_ohm": log_uniform(rng, 0.015, 0.12)},
        "worn_contacts": lambda: {"contact_ohm": log_uniform(rng, 0.012, 0.1)},
        "vehicle_timer": lambda: {"timer": True},
        "vehicle_limit": lambda: {"draw_ratio": rng.uniform(0.3, 0.7)},
        "low_setting": lambda: {"nameplate_ratio": rng.uniform(1.4, 2.5)},
        "load_management": lambda: {"offer_ratio": rng.uniform(0.2, 0.65)},
        "pilot_resistance": lambda: {"pilot_ohm": log_uniform(rng, 180.0, 1500.0)},
        "proximity_switch": lambda: {"prox_free_ohm": rng.choice([480.0, 210.0, 1e4])},
        "ground_lost": lambda: {"is_ground_open": True},
    }
    for name, value in changes.get(cause, dict)().items():
        setattr(f, name, value)
    return f


def make_world(rng: Rng, cause: str) -> World:
    level_1 = {"shared_circuit": 0.9, "long_run": 0.3}.get(cause, 0.3)
    level = 1 if rng.uniform() < level_1 else 2
    plants = [p for p in PLANTS if p[0] == level]
    _, rated_a, charger_a, size = plants[rng.integers(len(plants))]
    f = fault_of(rng, cause, level == 1)
    length_m = log_uniform(rng, 5.0, 25.0)
    volts = 120.0 if level == 1 else 240.0
    set_a = round(charger_a * f.load_ratio)
    if cause == "long_run":
        # long enough to lose 4 to 9 % of the volts
        length_m = rng.uniform(0.04, 0.09) * volts / (2 * WIRE[size] / 1000 * set_a)
    if cause == "shared_circuit":  # together they are more than the breaker holds
        f.other_a = max(2.0, rng.uniform(1.05, 1.6) * 1.15 * rated_a - set_a)
    world = World(cause, level, rated_a, float(set_a), size, length_m)
    _overcurrent(rng, world, f)
    _heat(rng, world, f, volts)
    _leak(rng, world, f, volts)
    _signals(world, f)
    _behavior(world, f)
    _circumstances(world, f)
    return world


def _one(value: str, others: tuple[str, ...], sure: float = 0.94) -> Odds:
    rest = [o for o in others if o != value]
    return {value: sure} | {o: (1 - sure) / len(rest) for o in rest}


def _yes(chance: float) -> Odds:
    return {"yes": chance, "no": 1 - chance}


# -- the breaker ---------------------------------------------------------------------------------
def trip_minutes(amps: float, rated_a: float, hold: float, air_c: float, local_k: float) -> float:
    """Bimetal at 125 °C, one time constant of 3 minutes; infinite where it holds."""
    room = max(0.0, (125 - air_c - local_k) / 85) ** 0.5 * hold
    ratio = amps / rated_a
    if ratio <= room:
        return np.inf
    return float(-3.0 * np.log(1 - (room / ratio) ** 2))


def _overcurrent(rng: Rng, world: World, f: Fault) -> None:
    watts = world.charger_a**2 * f.breaker_joint_ohm
    local_k = 4.0 * watts
    amps = world.charger_a + (f.other_a if f.has_others else 0.0)
    at_min = trip_minutes(amps, world.rated_a, f.hold_at_40, f.panel_c, local_k)
    if world.cause == "worn_breaker":
        at_min *= rng.uniform(1.0, 6.0)  # warms slowly up to its weak place
    if world.cause == "charger_set_high":
        at_min = at_min if np.isfinite(at_min) else rng.uniform(40.0, 200.0)
    if world.cause in ("hot_panel", "loose_at_breaker"):
        at_min = max(at_min, rng.uniform(10.0, 60.0))
    names = ("never", "at_once", "minutes", "hours", "random")
    if not np.isfinite(at_min):
        told = _one("never", names, 0.96)
    elif world.cause == "shared_circuit":
        told = {"never": 0.04, "at_once": 0.01, "minutes": 0.65, "hours": 0.06, "random": 0.24}
    else:
        likely = "at_once" if at_min < 0.02 else "minutes" if at_min < 30 else "hours"
        told = {n: 0.02 for n in names} | {"random": 0.12}
        told[likely] = 1 - sum(v for k, v in told.items() if k != likely)
    world.odds["trips"] = told
    world.odds["trip_kind"] = {"overcurrent": 0.93, "ground_fault": 0.07}
    world.odds["others_on_circuit"] = _yes(0.96 if f.has_others else 0.02)
    world.numbers["other_a"] = Number(f.other_a or 1.0, 0.4)
    world.odds["setting_over"] = _yes(0.999 if f.load_ratio > 1 else 0.001)
    rise_k = 18.0 * (amps / world.rated_a) ** 2 * (1.35 if world.cause == "worn_breaker" else 1.0)
    own_k = 3.2 * watts + (6.0 if world.cause == "worn_breaker" else 0.0)
    world.numbers["face_over"] = Number(own_k + 0.15 * (rise_k - 11.0), 1.2)
    world.numbers["panel_air"] = Number(f.panel_c, 1.0)
    loose = 0.93 if world.cause == "loose_at_breaker" else 0.03
    world.odds["breaker_loose"] = _yes(loose)
    burnt = 1 / (1 + np.exp(-(watts - 20) / 5))
    world.odds["breaker_marks"] = _yes(float(np.clip(burnt, 0.01, 0.95)))


# -- joints at the outlet --------------------------------------------------------------------------
def metal_c(rng: Rng, world: World) -> float:
    """Air along the run, and a share of the rise that its ampacity allows."""
    rise_k = 45.0 * (world.charger_a / AMPACITY[world.size]) ** 2
    return float(rng.uniform(10.0, 32.0) + rng.uniform(0.35, 1.0) * rise_k)


def _heat(rng: Rng, world: World, f: Fault, volts: float) -> None:
    joint_w = world.charger_a**2 * f.outlet_joint_ohm
    contact_w = world.charger_a**2 * f.contact_ohm
    worst_w = max(joint_w, contact_w)
    marks = float(np.clip(1 / (1 + np.exp(-(worst_w - 12) / 4)), 0.02, 0.97))
    world.odds["outlet_marks"] = _yes(marks)
    names = ("none", "terminal", "contact", "cord", "even")
    place = "terminal" if joint_w > contact_w else "contact"
    odds = {n: 0.01 for n in names}
    odds[place] = 0.8 * marks
    odds["contact" if place == "terminal" else "terminal"] = 0.1 * marks + 0.005
    odds["none"] = 1 - sum(v for k, v in odds.items() if k != "none")
    world.odds["burn_place"] = odds
    world.odds["outlet_loose"] = _yes(0.93 if world.cause == "loose_at_outlet" else 0.04)
    world.odds["grip_loose"] = _yes(0.9 if world.cause == "worn_contacts" else 0.05)
    grade = 0.7 if world.cause == "worn_contacts" else 0.4
    world.odds["grade"] = {"residential": grade, "charging": 0.7 * (1 - grade)} | {
        "industrial": 0.3 * (1 - grade)
    }
    warmth = 1 + COPPER_75 * (metal_c(rng, world) - 75)
    run_ohm = 2 * world.length_m * WIRE[world.size] / 1000 * warmth
    branch_ohm = run_ohm + 2 * f.outlet_joint_ohm * 0.5 + f.contact_ohm + f.breaker_joint_ohm
    sd_ohm = 0.35 / 1.7 / world.charger_a
    world.numbers["branch_ohm"] = Number(branch_ohm, sd_ohm)
    world.numbers["volts"] = Number(volts * 1.005, 0.01 * volts)
    world.numbers["supply_ohm"] = Number(0.03 if volts > 200 else 0.06, sd_ohm)


# -- leakage -------------------------------------------------------------------------------------
def _leak(rng: Rng, world: World, f: Fault, volts: float) -> None:
    wet_ma = 120.0 / f.wet_kohm
    total_ma = f.leak_ma + wet_ma
    names = ("none", "upstream", "charger", "both")
    told = _one("none", names, 0.96)
    if world.cause == "two_devices":
        told = {"none": 0.06, "upstream": 0.74, "charger": 0.05, "both": 0.15}
    elif total_ma > min(f.device_ma, 5.0):
        upstream = 0.75 if world.cause == "worn_ground_fault_device" else 0.42
        told = {"none": 0.06, "upstream": upstream, "both": 0.1}
        told["charger"] = 1 - sum(told.values())
    world.odds["ground_fault"] = told
    at = {"idle": 0.1, "start": 0.4, "later": 0.3, "random": 0.2}
    if world.cause == "two_devices":
        at = {"idle": 0.06, "start": 0.76, "later": 0.08, "random": 0.1}
    elif world.cause == "vehicle_leakage":
        at = {"idle": 0.02, "start": 0.7, "later": 0.2, "random": 0.08}
    elif world.cause in ("moisture", "worn_ground_fault_device"):
        at = {"idle": 0.2, "start": 0.2, "later": 0.25, "random": 0.35}
    world.odds["ground_fault_when"] = at
    world.odds["second_device"] = _yes(0.96 if f.has_second_device else 0.04)
    world.numbers["device_ma"] = Number(f.device_ma, 0.15)
    mohm = min(f.wet_kohm / 1000 * rng.uniform(1, 60), 500.0) if wet_ma > 1 else 250.0
    world.numbers["insulation_log"] = Number(float(np.log10(mohm)), 0.15)
    is_wet = wet_ma > 4
    world.odds["wet"] = _yes(0.7 if is_wet else 0.04)
    world.odds["debris"] = _yes(0.5 if is_wet else 0.04)
    leak_v = 12.0 * f.wet_kohm / (f.wet_kohm + 1.0)
    world.numbers["pilot_negative"] = Number(-leak_v, 0.06)
    world.numbers["pilot_a"] = Number(leak_v, 0.06)


# -- pilot, proximity, currents --------------------------------------------------------------------
def node_v(load_ohm: float, extra_ohm: float, wet_kohm: float) -> float:
    """Positive peak of the pilot at the charger: 12 V, 1 kΩ, a diode of 0.7 V."""
    load = load_ohm + extra_ohm
    g = 1 / 1000 + 1 / load + 1 / (wet_kohm * 1000)
    return (12 / 1000 + 0.7 / load) / g


def _signals(world: World, f: Fault) -> None:
    world.numbers["pilot_b"] = Number(node_v(2740, f.pilot_ohm, f.wet_kohm), 0.05)
    world.numbers["pilot_c"] = Number(node_v(881.7, f.pilot_ohm, f.wet_kohm), 0.05)
    world.numbers["prox_free"] = Number(f.prox_free_ohm, 0.01 * f.prox_free_ohm + 1)
    world.numbers["prox_pressed"] = Number(480.0, 6.0)
    world.odds["ground_open"] = _yes(0.98 if f.is_ground_open else 0.01)
    world.numbers["offer_ratio"] = Number(f.offer_ratio, 0.012)
    world.numbers["draw_ratio"] = Number(f.draw_ratio, 0.02)
    world.numbers["nameplate_ratio"] = Number(f.nameplate_ratio, 0.001)
    world.odds["managed"] = _yes(0.93 if world.cause == "load_management" else 0.08)
    own = 0.75 if world.cause == "vehicle_limit" else 0.08
    world.odds["vehicle_says"] = _yes(own)


def _starts(world: World, f: Fault) -> tuple[str, float]:
    if world.cause == "vehicle_timer":
        return "ready", 0.88
    if f.is_ground_open:
        return "fault", 0.85
    if world.cause == "proximity_switch" and f.prox_free_ohm > 300:
        return "ready", 0.75
    if f.pilot_ohm > 450:
        return "ready", 0.6
    return ("fault", 0.45) if f.wet_kohm < 8 else ("charges", 0.94)


STOPS = {
    "proximity_switch": (0.45, 0.04, 0.03, 0.1, 0.38),
    "pilot_resistance": (0.4, 0.08, 0.05, 0.2, 0.27),
    "moisture": (0.65, 0.07, 0.05, 0.2, 0.03),
}


def _behavior(world: World, f: Fault) -> None:
    start, sure = _starts(world, f)
    world.odds["starts"] = _one(start, ("charges", "dead", "ready", "fault"), sure)
    shown = {"ground_fault": 0.15, "no_ground": 0.1, "hot": 0.15, "contactor": 0.1, "pilot": 0.25}
    shown["other"] = 0.25
    if f.is_ground_open:
        shown = _one("no_ground", tuple(shown), 0.92)
    elif f.wet_kohm < 50:
        shown = _one("ground_fault", tuple(shown), 0.7)
    world.odds["fault_shown"] = shown
    chances = STOPS.get(world.cause, (0.94, 0.015, 0.015, 0.015, 0.015))
    names = ("no", "minutes", "hours", "random", "touched")
    world.odds["stops"] = dict(zip(names, chances, strict=True))
    is_set_low = world.cause == "low_setting"  # where the owner expects more of it
    drawn = f.offer_ratio * f.draw_ratio / (f.nameplate_ratio if is_set_low else 1.0)
    slow = 0.93 if drawn < 0.75 else 0.04
    world.odds["slow"] = _yes(0.6 if world.cause == "long_run" else slow)


def _circumstances(world: World, f: Fault) -> None:
    of = {
        "rain": ("moisture", 0.78, 0.1),
        "hot": ("hot_panel", 0.85, 0.1),
        "other_loads": ("shared_circuit", 0.75, 0.07),
        "other_vehicles": ("load_management", 0.55, 0.06),
        "storm": ("worn_ground_fault_device", 0.35, 0.04),
        "new": ("two_devices", 0.45, 0.1),
    }
    for name, (cause, with_it, without) in of.items():
        world.odds[name] = _yes(with_it if world.cause == cause else without)
    if world.cause == "charger_set_high":
        world.odds["new"] = _yes(0.4)
        world.odds["hot"] = _yes(0.3)
    world.odds["timer"] = _yes(0.97 if f.timer else 0.03)
    world.odds["timer_off"] = _yes(0.95 if world.cause == "vehicle_timer" else 0.04)
    mine = world.cause in ("vehicle_limit", "vehicle_timer", "vehicle_leakage")
    world.odds["others_fine"] = _yes(0.9 if mine else 0.05)
