"""A place is the same one over visits that go on from each other, whatever it is renamed to."""

from random import Random

from hypothesis import given, settings
from hypothesis import strategies as st

from checks.record import ChargingPoint, Correction, Panel, Visit
from checks.trends.places import places
from tests.builders import NOON, point, visit

NAMES = ("Bay 1", "Bay 2", "Bay 3", "bay  4")


def renamed(made: Visit, rng: Random) -> Visit:
    """Correct a name to one that is free, or add a place; nothing that is there goes."""
    of = rng.choice(("points", "panels"))
    here: tuple[ChargingPoint | Panel, ...] = getattr(made, of)
    free = [n for n in NAMES if n not in {p.name for p in here}]
    if not free:
        return made
    name, number = rng.choice(free), 1 + len(made.corrections)
    if rng.random() < 0.3:
        new = here[0].model_copy(update={"id": f"{of[:2]}{len(here) + 1}", "name": name})
        return made.model_copy(update={of: (*here, new)})
    was = rng.choice(here)
    now = tuple(p.model_copy(update={"name": name}) if p is was else p for p in here)
    correction = Correction.model_validate({"number": number, "at": NOON, of: (was,)})
    return made.model_copy(update={of: now, "corrections": (*made.corrections, correction)})


@settings(max_examples=200, deadline=None, derandomize=True)
@given(st.integers(0, 10**6))
def test_a_place_is_known_again_through_every_correction_of_its_name(seed: int) -> None:
    rng = Random(seed)
    made = [visit(id="v1", points=(point(name="Bay 1"),))]
    for n in range(1, 5):
        for _ in range(rng.randrange(4)):
            made[-1] = renamed(made[-1], rng)
        after = {"id": f"v{n + 1}", "started": f"20{30 + n}-01-01T09:00:00Z", "corrections": ()}
        made.append(made[-1].model_copy(update=after))
    *earlier, latest = (Visit.model_validate_json(v.model_dump_json()) for v in made)
    known = places(latest, earlier)
    for each in earlier:
        assert known[each.id] == {p.id: p.id for p in (*each.panels, *each.points)}
    assert places(latest, earlier[::-1]) == known
