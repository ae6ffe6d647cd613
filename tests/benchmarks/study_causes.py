"""How well the causes of simulated service calls are found.

    python -m tests.benchmarks.study_causes --n 1000

Aims: the true cause ranked first at least 95 % as often as by an exhaustive reader of the
simulation on the same cases; expected calibration error at most 0.05; on small cases solved
exhaustively at most 1.3 times the fewest tests possible. The scored seed is not tuned on.
"""

import argparse
from collections import Counter
from dataclasses import dataclass
from functools import cache

import numpy as np

from checks.assess import assess
from checks.causes import View
from checks.causes.bayes import Table, factors, of_each, table, weigh
from checks.causes.cause import Cause, Evidence
from checks.causes.clue import Clue, Outcome
from checks.causes.clues import CLUES
from checks.causes.library import CAUSES as LIBRARY
from checks.causes.next_test import (
    Candidate,
    choose,
    expected_bits,
    minutes_of,
    one_or_none,
)
from checks.causes.ranking import library_table, observed
from checks.causes.safety import Way
from checks.check import Situation
from checks.codes import profile
from checks.path import Station
from checks.record import Role, Visit, VisitKind
from checks.source import judgement
from checks.stations.all import BY_ID
from checks.verdict import Severity
from tests.benchmarks.service_call_reader import Reader
from tests.benchmarks.service_calls import (
    CAUSES,
    TOGETHER,
    Found,
    Rng,
    World,
    draw_case,
    make_world,
    read_check,
)
from tests.builders import level_1, point, visit, with_entries

SCORED_SEED = 20_261_125
NEC = profile("nec_2023")
SURE = 0.9
Plain = dict[str, dict[str, object]]


# -- from what was found to entries ---------------------------------------------------------------
def entries(world: World, made: dict[str, Found]) -> Plain:
    """The entries that a technician makes of what was found."""
    plain: Plain = {
        "charger.configuration": {"configured_a": f"{world.charger_a:g} A", "access": "tool"}
    }
    for check, found in made.items():
        plain |= WRITE[check](world, found)
    if "outlet.loaded_voltage" in made or "vehicle.power" in made:
        plain["outlet.loaded_voltage"] = _loaded(world, made)
    return plain


def _is(found: Found, name: str) -> bool:
    return found.get(name) == "yes"


def _trips(_: World, found: Found) -> Plain:
    said = {"when": found["trips"]}
    if "trip_kind" in found:
        said["kind"] = found["trip_kind"]
    return {"breaker.trip_history": said}


def _ground_fault(_: World, found: Found) -> Plain:
    said = {"device": found["ground_fault"]}
    if "ground_fault_when" in found:
        said["when"] = found["ground_fault_when"]
    return {"outlet.ground_fault_history": said}


def _burn(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"place": found["burn_place"]}
    if found["burn_place"] in ("terminal", "contact"):
        said |= {"is_one_sided": True, "has_arc_beads": False}
    return {"outlet.burn_pattern": said}


def _behavior(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"start": found["starts"], "is_offline": False}
    if "fault_shown" in found:
        said["fault"] = found["fault_shown"]
    if "stops" in found:
        said |= {"stops": found["stops"], "is_slow": _is(found, "slow")}
    return {"charger.behavior": said}


def _when(_: World, found: Found) -> Plain:
    names = {
        "rain": "is_after_rain",
        "hot": "is_on_hot_days",
        "other_loads": "is_with_other_loads",
        "other_vehicles": "is_with_other_vehicles",
        "storm": "is_since_storm",
        "new": "is_since_new",
    }
    return {"surroundings.circumstances": {names[n]: _is(found, n) for n in names}}


def _trial(_: World, found: Found) -> Plain:
    said = {"timer": "on" if _is(found, "timer") else "off", "elsewhere": "untried"}
    if "timer_off" in found:
        said["at_once"] = "starts" if _is(found, "timer_off") else "no_start"
    said["others"] = "fine" if _is(found, "others_fine") else "same"
    return {"vehicle.trial": said}


def _dedicated(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"is_alone": not _is(found, "others_on_circuit")}
    if "other_a" in found:
        said["other_a"] = f"{max(0.1, float(found['other_a'])):.1f} A"
    return {"run.dedicated": said}


def _breaker_rating(world: World, _: Found) -> Plain:
    return {"breaker.rating": {"rated_a": f"{world.rated_a} A", "poles": str(world.level)}}


def _warmth(_: World, found: Found) -> Plain:
    air = float(found["panel_air"])
    face = air + 14.0 + float(found["face_over"])
    said = {"face": f"{face:.1f} °C", "neighbor": f"{air + 14.0:.1f} °C", "air": f"{air:.1f} °C"}
    return {"breaker.temperature": said}


def _torque(check: str, name: str):  # type: ignore[no-untyped-def]
    def write(_: World, found: Found) -> Plain:
        state = "loose" if _is(found, name) else "not loose"
        return {check: {"occasion": "found", "found": state}}

    return write


def _marks(_: World, found: Found) -> Plain:
    seen = {"has_heat_marks": _is(found, "breaker_marks"), "is_damaged": False}
    return {
        "breaker.condition": seen | {"is_tripped_unknown": False},
        "panel.condition": dict.fromkeys(
            ("has_heat_marks", "is_wet", "is_corroded", "has_openings"), False
        ),
    }


def _damage(_: World, found: Found) -> Plain:
    seen = {"has_heat_marks": _is(found, "outlet_marks"), "is_cracked": False}
    return {
        "outlet.damage": seen | {"is_wet": _is(found, "wet")},
        "charger.damage": dict.fromkeys(
            ("is_case_broken", "is_cable_cut", "has_heat_marks", "has_water"), False
        ),
    }


def _loaded(world: World, made: dict[str, Found]) -> dict[str, object]:
    drawn = made.get("vehicle.power")
    amps = world.charger_a
    said: dict[str, object] = {"load": "test load"}
    if drawn is not None:
        amps *= float(drawn["offer_ratio"]) * float(drawn["draw_ratio"])
        said["load"] = "vehicle"
    said["current"] = f"{max(1.0, amps):.1f} A"
    found = made.get("outlet.loaded_voltage")
    if found is None:
        return said
    free_v = float(found["volts"])
    panel_v = free_v - amps * float(found["supply_ohm"])
    outlet_v = panel_v - amps * float(found["branch_ohm"])
    return said | {
        "outlet_no_load": f"{free_v:.1f} V",
        "outlet_loaded": f"{outlet_v:.1f} V",
        "panel_no_load": f"{free_v:.1f} V",
        "panel_loaded": f"{panel_v:.1f} V",
    }


def _run(world: World, _: Found) -> Plain:
    return {
        "run.conductor": {
            "size": world.size,
            "material": "copper",
            "insulation": "THWN-2",
            "method": "EMT",
            "is_wet": False,
            "terminals": "75",
            "ambient": "30 °C",
            "carrying": 2,
        },
        "run.length": {"basis": "measured", "length": f"{world.length_m:.1f} m"},
    }


def _insulation(_: World, found: Found) -> Plain:
    mohm = 10 ** float(found["insulation_log"])
    said = {"is_disconnected": True, "test_v": "500", "line_ground": f"{mohm:.3f} MΩ"}
    return {"run.insulation": said | {"second_ground": "300 MΩ", "between": "300 MΩ"}}


def _device(_: World, found: Found) -> Plain:
    device = {"device": "breaker", "device_class": "class_a", "is_accessible": True}
    test = {"is_tripped_by_button": True, "is_restored": True, "method": "current"}
    test["trip_current"] = f"{float(found['device_ma']):.2f} mA"
    return {"outlet.ground_fault": device, "outlet.ground_fault_trip": test}


def _seating(_: World, found: Found) -> Plain:
    seat = {"is_held": True, "has_clicked": True, "is_rocking": False, "gap": "0.5 mm"}
    free, pressed = float(found["prox_free"]), float(found["prox_pressed"])
    ohms = {"latched_ohm": f"{free:.0f} Ω", "pressed_ohm": f"{pressed:.0f} Ω"}
    return {"connector.seating": seat | ohms}


def _pilot(_: World, found: Found) -> Plain:
    names = {"pilot_a": "state_a", "pilot_b": "state_b", "pilot_c": "state_c"}
    names["pilot_negative"] = "negative"
    said = {names[n]: f"{float(v):.2f} V" for n, v in found.items()}
    return {"charger.pilot_voltage": said}


def _power(world: World, found: Found) -> Plain:
    offer = world.charger_a * float(found["offer_ratio"])
    kw = offer * float(found["draw_ratio"]) * (0.12 if world.level == 1 else 0.24)
    reason = "temperature" if _is(found, "vehicle_says") else "none"
    return {
        "charger.offered_current": {"method": "amps", "amps": f"{offer:.1f} A"},
        "vehicle.power": {"displayed": f"{kw:.2f} kW", "reason": reason},
    }


def _nameplate(world: World, found: Found) -> Plain:
    rated_a = world.charger_a * float(found["nameplate_ratio"])
    volts = "120" if world.level == 1 else "240"
    said = {"rated_a": f"{rated_a:.0f} A", "volts": volts, "is_listed": True}
    return {"charger.nameplate": said | {"enclosure": "type_3r"}}


def _managed(_: World, found: Found) -> Plain:
    said: dict[str, object] = {"method": "year", "demand_a": "60 A", "is_included": False}
    said["is_managed"] = _is(found, "managed")
    if said["is_managed"]:
        said["managed_a"] = "24 A"
    return {"service.load": said}


WRITE = {
    "breaker.trip_history": _trips,
    "outlet.ground_fault_history": _ground_fault,
    "outlet.burn_pattern": _burn,
    "charger.behavior": _behavior,
    "surroundings.circumstances": _when,
    "vehicle.trial": _trial,
    "breaker.rating": _breaker_rating,
    "run.dedicated": _dedicated,
    "breaker.temperature": _warmth,
    "breaker.terminal_torque": _torque("breaker.terminal_torque", "breaker_loose"),
    "breaker.condition": _marks,
    "outlet.damage": _damage,
    "outlet.terminal_torque": _torque("outlet.terminal_torque", "outlet_loose"),
    "outlet.retention": lambda _, f: {
        "outlet.retention": {"feel": "loose" if _is(f, "grip_loose") else "firm"}
    },
    "outlet.grade": lambda _, f: {"outlet.grade": {"grade": f["grade"]}},
    "outlet.loaded_voltage": _run,
    "outlet.series_devices": lambda _, f: {
        "outlet.series_devices": {
            "second": "present" if _is(f, "second_device") else "none",
            "instructions": "silent",
        }
    },
    "outlet.ground_fault_trip": _device,
    "run.insulation": _insulation,
    "run.protective_conductor": lambda _, f: {
        "run.protective_conductor": {"are_leads_nulled": True, "reading": "open"}
        if _is(f, "ground_open")
        else {"are_leads_nulled": True, "reading": "value", "ohm": "0.06 Ω"}
    },
    "connector.pins": lambda _, f: {
        "connector.pins": dict.fromkeys(("has_burn_marks", "is_pitted", "is_cracked"), False)
        | {"has_debris": _is(f, "debris")}
    },
    "charger.pilot_voltage": _pilot,
    "connector.seating": _seating,
    "vehicle.power": _power,
    "charger.nameplate": _nameplate,
    "service.load": _managed,
}


def a_visit(world: World, made: dict[str, Found]) -> Visit:
    here = level_1() if world.level == 1 else point()
    call = visit(kind=VisitKind.SERVICE_CALL, role=Role.SERVES, points=(here,))
    return with_entries(call, entries(world, made))


def clues_of(made: Visit) -> dict[str, str]:
    """What the library reads from a visit."""
    found = assess(made, NEC)
    here = {r.check: r.judgement for r in found.rows}
    return observed(View(Situation(made, NEC, made.points[0].id), here))


@cache
def simulated_table() -> Table:
    """The library's causes that the simulation can make: the reader knows of no others either."""
    return table(tuple(c for c in LIBRARY if c.id in CAUSES), CLUES)


def ranked(found: dict[str, str], chart: Table) -> dict[str, float]:
    return of_each(chart, weigh(chart, factors(chart, found).values()))


# -- the study ------------------------------------------------------------------------------------
@dataclass
class Case:
    """One case: the truth, the ranking, and the reader's."""

    cause: str
    mine: dict[str, float]
    reader: dict[str, float]

    def place(self, of: dict[str, float]) -> int:
        return sorted(of, key=lambda c: -of[c]).index(self.cause) + 1


def study(n: int, seed: int, worlds: int = 500) -> list[Case]:
    rng = np.random.default_rng(seed)
    reader = Reader(np.random.default_rng(seed + 1), worlds)
    outcomes = []
    for _ in range(n):
        world, made = draw_case(rng)
        mine = ranked(clues_of(a_visit(world, made)))
        outcomes.append(Case(world.cause, mine, reader.posterior(world, made)))
    return outcomes


@dataclass
class Figures:
    """What the aims speak of."""

    first: float
    third: float
    reader_first: float
    reader_third: float
    calibration_error: float
    reader_error: float

    @property
    def of_reader(self) -> float:
        return self.first / self.reader_first


def figures(outcomes: list[Case]) -> Figures:
    mine = [o.place(o.mine) for o in outcomes]
    reader = [o.place(o.reader) for o in outcomes]
    return Figures(
        first=float(np.mean([p == 1 for p in mine])),
        third=float(np.mean([p <= 3 for p in mine])),
        reader_first=float(np.mean([p == 1 for p in reader])),
        reader_third=float(np.mean([p <= 3 for p in reader])),
        calibration_error=calibration(outcomes, reader=False)[0],
        reader_error=calibration(outcomes, reader=True)[0],
    )


def calibration(
    outcomes: list[Case], *, reader: bool
) -> tuple[float, list[tuple[float, float, int]]]:
    """Expected calibration error of the leading cause's share, and the table of ten bins."""
    tops = []
    for o in outcomes:
        of = o.reader if reader else o.mine
        best = max(of, key=lambda c: of[c])
        tops.append((of[best], best == o.cause))
    rows, error = [], 0.0
    for low in np.arange(0.0, 1.0, 0.1):
        here = [(p, r) for p, r in tops if low <= min(p, 0.9999) < low + 0.1]
        if here:
            said, true = (float(np.mean(x)) for x in zip(*here, strict=True))
            rows.append((said, true, len(here)))
            error += abs(said - true) * len(here) / len(tops)
    return error, rows


def confusions(outcomes: list[Case], most: int = 8) -> list[tuple[str, str, int]]:
    wrong = Counter(
        (o.cause, max(o.mine, key=lambda c: o.mine[c])) for o in outcomes if o.place(o.mine) > 1
    )
    return [(a, b, n) for (a, b), n in wrong.most_common(most)]


# -- tests needed ---------------------------------------------------------------------------------
def tests_needed(n: int, seed: int) -> tuple[float, float]:
    """Median checks until a share of 0.9: as proposed, and along the path."""
    rng = np.random.default_rng(seed)
    proposed, along = [], []
    for _ in range(n):
        cause = str(rng.choice(CAUSES))
        world = make_world(rng, cause)
        made = {check: read_check(rng, world, check) for check in TOGETHER}
        full = clues_of(a_visit(world, made))
        proposed.append(_ask(full, by_information=True))
        along.append(_ask(full, by_information=False))
    return float(np.mean(proposed)), float(np.mean(along))


def _ask(full: dict[str, str], *, by_information: bool) -> int:
    chart, found, asked = library_table(), {}, 0
    while max(ranked(found).values()) < SURE:
        left = [chart.clues[c] for c in full if c not in found]
        if not left:
            return asked
        check = _best(chart, found, left) if by_information else _first(left)
        found |= {c: o for c, o in full.items() if chart.clues[c].check == check}
        asked += 1
    return asked


def _best(chart: Table, found: dict[str, str], left: list[Clue]) -> str:
    masses = one_or_none(chart, weigh(chart, factors(chart, found).values()))
    offered: dict[str, Candidate] = {}
    for clue in left:
        check = BY_ID[clue.check]
        bits = expected_bits(chart, found, clue, masses)
        if check.id not in offered or bits > offered[check.id].bits:
            offered[check.id] = Candidate(check, clue, bits, Way((), False), minutes_of(check))
    best = choose(tuple(offered.values()))
    assert best is not None
    return best.check.id


def _first(left: list[Clue]) -> str:
    order = list(BY_ID)
    return min((clue.check for clue in left), key=order.index)


# -- small cases solved exhaustively --------------------------------------------------------------
def small_case(rng: Rng, causes: int = 4, tests: int = 5) -> tuple[np.ndarray, np.ndarray]:
    """Priors, and the chance of "bad" of each test with each cause."""
    priors = rng.dirichlet(np.ones(causes) * 2)
    chances = np.where(rng.uniform(size=(tests, causes)) < 0.4, 0.93, 0.05)
    return priors, np.clip(chances + rng.uniform(-0.04, 0.04, (tests, causes)), 0.02, 0.98)


def fewest(priors: np.ndarray, chances: np.ndarray) -> float:
    """Expected tests of the best possible order, until a cause has 0.9 or no test is left."""
    tests = len(chances)

    @cache
    def cost(state: tuple[int, ...]) -> float:
        masses = _masses(priors, chances, state)
        if masses.max() / masses.sum() >= SURE or 0 not in state:
            return 0.0
        return 1 + min(
            sum(
                _masses(priors, chances, nxt).sum() / masses.sum() * cost(nxt)
                for nxt in _steps(state, i)
            )
            for i in range(tests)
            if state[i] == 0
        )

    return cost((0,) * tests)


def greedy(priors: np.ndarray, chances: np.ndarray) -> float:
    """Expected tests when each is chosen by its expected information, as the library does."""
    chart = as_chart(priors, chances)
    names = list(chart.clues)

    def cost(state: tuple[int, ...]) -> float:
        masses = _masses(priors, chances, state)
        if masses.max() / masses.sum() >= SURE or 0 not in state:
            return 0.0
        shares = (0.0, *(masses / masses.sum()).tolist())
        bits = {
            i: expected_bits(chart, {}, chart.clues[names[i]], shares)
            for i, told in enumerate(state)
            if told == 0
        }
        best = max(bits, key=lambda i: bits[i])
        return 1 + sum(
            _masses(priors, chances, nxt).sum() / masses.sum() * cost(nxt)
            for nxt in _steps(state, best)
        )

    return cost((0,) * len(chances))


def _steps(state: tuple[int, ...], i: int) -> list[tuple[int, ...]]:
    return [(*state[:i], value, *state[i + 1 :]) for value in (1, 2)]


def _masses(priors: np.ndarray, chances: np.ndarray, state: tuple[int, ...]) -> np.ndarray:
    masses = priors.copy()
    for chance, told in zip(chances, state, strict=True):
        if told:
            masses = masses * (chance if told == 1 else 1 - chance)
    return masses


def as_chart(priors: np.ndarray, chances: np.ndarray) -> Table:
    """The small case as the library's table; half of what is found is usual."""
    basis = judgement("a small case")
    both = (Outcome("bad", "it is bad", 0.5), Outcome("good", "it is good", 0.5))
    clues = tuple(Clue(f"t{i}", "x", both, "", lambda _: None) for i in range(len(chances)))
    causes = tuple(
        Cause(
            f"c{k}",
            f"c{k}",
            Station.RUN,
            float(prior),
            tuple(
                Evidence(f"t{i}", "bad", float(c[k]) / 0.5, basis) for i, c in enumerate(chances)
            ),
            (),
            "",
            "",
            (),
            Severity.NOTICE,
        )
        for k, prior in enumerate(priors)
    )
    return table(causes, clues)


def against_optimum(n: int, seed: int) -> float:
    """Tests needed by information, in parts of the fewest possible, over small cases."""
    rng = np.random.default_rng(seed)
    cases = [small_case(rng) for _ in range(n)]
    return sum(greedy(*c) for c in cases) / sum(fewest(*c) for c in cases)


def table_of(outcomes: list[Case], seed: int) -> str:
    f = figures(outcomes)
    rows = [
        f"seed {seed}, cases {len(outcomes)}, causes {len(CAUSES)}",
        f"true cause first: {100 * f.first:.1f} %, reader {100 * f.reader_first:.1f} %, "
        f"share of the reader's {100 * f.of_reader:.1f} % (aim 95)",
        f"in the first three: {100 * f.third:.1f} %, reader {100 * f.reader_third:.1f} %",
        f"calibration error: {f.calibration_error:.3f} (aim 0.05), reader {f.reader_error:.3f}",
        "said, true, cases:",
    ]
    rows += [f"  {s:.2f}  {t:.2f}  {n}" for s, t, n in calibration(outcomes, reader=False)[1]]
    rows += [f"  taken for: {a} -> {b}: {n}" for a, b, n in confusions(outcomes)]
    return "\n".join(rows)


assert set(WRITE) == set(TOGETHER)


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--n", type=int, default=1000)
    parser.add_argument("--seed", type=int, default=SCORED_SEED)
    arguments = parser.parse_args()
    print(table_of(study(arguments.n, arguments.seed), arguments.seed))
    mine, fixed = tests_needed(max(20, arguments.n // 10), arguments.seed + 2)
    print(f"checks until a share of {SURE}: {mine:.1f} as proposed, {fixed:.1f} along the path")
    ratio = against_optimum(max(10, arguments.n // 20), arguments.seed + 3)
    print(f"tests against the fewest possible, small cases: {ratio:.2f} times (aim 1.3)")
