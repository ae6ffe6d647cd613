"""What was found stays found: neither an addition nor an answer that is missing makes it good.

Random records are held against themselves with a charging point or a panel added, of which nothing
is recorded yet, and with one answer taken out.
"""

from collections.abc import Callable
from functools import cache
from random import Random
from typing import Final

import pytest

from checks.assess import Assessment, assess
from checks.codes import profile
from checks.record import Entry, Occupancy, Panel, Role, Site, SupplySystem, Visit, VisitKind
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from fieldapp.walk.filled import with_no_vehicle_asked
from tests.builders import PANEL, visit
from tests.strategies import filled, full_entry, points_of

RECORDS: Final = 14
FIRST: Final = 1000
TAKEN: Final = 6
NEW_PANEL, NEW_POINT = "panel-new", "bay-new"
Key = tuple[str, str]


@cache
def record(seed: int) -> Visit:
    """A random record of one or two charging points at one panel, most of its checks whole."""
    rng = Random(seed)
    system = rng.choice(list(SupplySystem))
    shapes = rng.sample(points_of(system), rng.choice((1, 2)))
    points = (
        p.model_copy(update={"id": f"bay-{i}", "name": f"Bay {i}"}) for i, p in enumerate(shapes, 1)
    )
    shape = visit(
        kind=rng.choice(list(VisitKind)),
        role=rng.choice(list(Role)),
        system=system,
        code=rng.choice(("nec_2023", "cec_2021")),
        site=Site(name="Invented site", occupancy=rng.choice(list(Occupancy))),
        panels=(Panel(id=PANEL, name="Panel A", is_service_equipment=rng.random() < 0.5),),
        points=tuple(points),
    )
    return filled(shape, rng, full_entry if rng.random() < 0.7 else None)


@cache
def found(seed: int) -> Assessment:
    return judged(record(seed))


def judged(made: Visit) -> Assessment:
    return assess(made, profile(made.code))


def grave(of: Assessment) -> set[Key]:
    return {(f.row.check, f.row.subject) for f in of.findings if f.severity.is_grave}


def with_point(made: Visit, panel: str = PANEL) -> Visit:
    """One more charging point, as the app copies one: what is installed, and nothing recorded."""
    like = with_no_vehicle_asked(made.points[0])
    added = like.model_copy(update={"id": NEW_POINT, "name": "New bay", "panel": panel})
    return made.model_copy(update={"points": (*made.points, added)})


def with_panel(made: Visit, *, is_service: bool) -> Visit:
    added = Panel(id=NEW_PANEL, name="New panel", is_service_equipment=is_service)
    return made.model_copy(update={"panels": (*made.panels, added)})


ADDITIONS: Final[dict[str, Callable[[Visit], Visit]]] = {
    "a copied point": with_point,
    "a panel at the service": lambda made: with_panel(made, is_service=True),
    "a panel on a feeder": lambda made: with_panel(made, is_service=False),
    "a panel with a point": lambda made: with_point(with_panel(made, is_service=True), NEW_PANEL),
}
SEEDS: Final = range(FIRST, FIRST + RECORDS)


@pytest.mark.parametrize("name", ADDITIONS)
def test_a_danger_or_a_warning_stands_whatever_is_added(name: str):
    lost = {}
    for seed in SEEDS:
        now = judged(ADDITIONS[name](record(seed)))
        gone = grave(found(seed)) - grave(now)
        lost |= {(seed, *key): str(now.row(*key).judgement.verdict) for key in gone}
    assert lost == {}


def test_no_danger_or_warning_is_within_once_an_answer_is_missing():
    """Only one that may be passed over could be what made it, and be taken back for good."""
    lost = {}
    for seed in SEEDS:
        rng, made = Random(seed), record(seed)
        for entry in rng.sample([e for e in made.entries if e.answers], TAKEN):
            name = rng.choice(entry.answers).input
            asked = BY_ID[entry.check].input(name)
            assert asked is not None
            if asked.optional:
                continue
            now = judged(taken_out(made, entry, name))
            good = (now.row(*key) for key in grave(found(seed)))
            lost |= {
                (seed, entry.check, name, row.check): row.judgement.explanation
                for row in good
                if row.judgement.verdict is Verdict.WITHIN
            }
    assert lost == {}


def taken_out(made: Visit, entry: Entry, name: str) -> Visit:
    answers = tuple(a for a in entry.answers if a.input != name)
    part = entry.model_copy(update={"answers": answers})
    kept = tuple(part if e is entry else e for e in made.entries)
    return made.model_copy(update={"entries": kept})


def test_the_records_hold_findings_of_every_judge_that_sums_over_points():
    """Without them the laws above would say nothing of what they are for."""
    checks = {check for seed in SEEDS for check, _ in grave(found(seed))}
    assert checks >= {
        "service.load",
        "panel.load",
        "service.transformer",
        "service.rating",
        "panel.rating",
        "service.management_limit",
        "panel.management_fail_safe",
    }
