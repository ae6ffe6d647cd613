"""What is read at a simulated service call: by which checks, what hangs on what, what is missing.

Imports nothing of the project but the simulation.
"""

from tests.benchmarks.service_calls import CAUSES, SHARES, Rng, World, make_world

MISSING = 0.45  # of the checks beyond the symptoms
SYMPTOM_MISSING = 0.05

# Names that are found together: one check a line, the symptoms first.
TOGETHER = {
    "breaker.trip_history": ("trips", "trip_kind"),
    "outlet.ground_fault_history": ("ground_fault", "ground_fault_when"),
    "outlet.burn_pattern": ("burn_place",),
    "charger.behavior": ("starts", "fault_shown", "stops", "slow"),
    "surroundings.circumstances": ("rain", "hot", "other_loads", "other_vehicles", "storm", "new"),
    "vehicle.trial": ("timer", "timer_off", "others_fine"),
    "breaker.rating": ("setting_over",),
    "run.dedicated": ("others_on_circuit", "other_a"),
    "breaker.temperature": ("face_over", "panel_air"),
    "breaker.terminal_torque": ("breaker_loose",),
    "breaker.condition": ("breaker_marks",),
    "outlet.damage": ("outlet_marks", "wet"),
    "outlet.terminal_torque": ("outlet_loose",),
    "outlet.retention": ("grip_loose",),
    "outlet.grade": ("grade",),
    "outlet.loaded_voltage": ("branch_ohm", "supply_ohm", "volts"),
    "outlet.series_devices": ("second_device",),
    "outlet.ground_fault_trip": ("device_ma",),
    "run.insulation": ("insulation_log",),
    "run.protective_conductor": ("ground_open",),
    "connector.pins": ("debris",),
    "charger.pilot_voltage": ("pilot_a", "pilot_b", "pilot_c", "pilot_negative"),
    "connector.seating": ("prox_free", "prox_pressed"),
    "vehicle.power": ("offer_ratio", "draw_ratio", "vehicle_says"),
    "charger.nameplate": ("nameplate_ratio",),
    "service.load": ("managed",),
}
SYMPTOMS = tuple(TOGETHER)[:4]
# Asked only after another answer.
HANGS = {
    "trip_kind": lambda found: found.get("trips") not in (None, "never"),
    "ground_fault_when": lambda found: found.get("ground_fault") not in (None, "none"),
    "fault_shown": lambda found: found.get("starts") == "fault",
    "stops": lambda found: found.get("starts") == "charges",
    "slow": lambda found: found.get("starts") == "charges",
    "timer_off": lambda found: found.get("timer") == "yes",
    "other_a": lambda found: found.get("others_on_circuit") == "yes",
}
Found = dict[str, float | str]


def read(rng: Rng, world: World, name: str) -> float | str:
    if name in world.numbers:
        of = world.numbers[name]
        return float(rng.normal(of.mean, of.sd))
    odds = world.odds[name]
    return str(rng.choice(list(odds), p=list(odds.values())))


def read_check(rng: Rng, world: World, check: str) -> Found:
    found: Found = {}
    for name in TOGETHER[check]:
        if name not in HANGS or HANGS[name](found):
            found[name] = read(rng, world, name)
    return found


def draw_case(rng: Rng) -> tuple[World, dict[str, Found]]:
    """A world, and what was found there by the checks that were made."""
    whole = sum(SHARES.values())
    cause = str(rng.choice(CAUSES, p=[SHARES[c] / whole for c in CAUSES]))
    world = make_world(rng, cause)
    made = {}
    for check in TOGETHER:
        missing = SYMPTOM_MISSING if check in SYMPTOMS else MISSING
        if rng.uniform() >= missing:
            made[check] = read_check(rng, world, check)
    return world, made
