"""What a part that was fitted today owes. Common practice, no source."""

import pytest

from checks.check import Situation, replacements
from checks.codes import profile
from checks.record import ChargingPoint
from checks.stations.all import BY_ID
from checks.stations.fitted import OWED, owed
from tests.builders import POINT, hard_wired, point
from tests.unit.causes.calls import Plain, service_call

TERMINALS = {"outlet.terminal_torque", "run.polarity"}


def left(entries: Plain, here: ChargingPoint | None = None) -> frozenset[str]:
    made = service_call(entries, points=(here or point(),))
    return owed(Situation(made, profile("nec_2023"), POINT))


def fitted(part: str) -> Plain:
    return {"surroundings.repair": {"outcome": "mended", "replaced": part, "done": "new"}}


def test_each_part_that_may_be_named_owes_checks_that_exist() -> None:
    asked = next(i for i in BY_ID["surroundings.repair"].inputs if i.name == "replaced")
    named = {o.value: replacements(service_call(fitted(o.value))) for o in asked.options}
    assert named.pop("none") == []
    assert {part for (made,) in named.values() for part in made.parts} == set(OWED)
    assert all(set(OWED[part]) <= set(BY_ID) for part in OWED)


def test_a_new_receptacle_owes_its_own_checks_though_none_was_made_before() -> None:
    found = left(fitted("receptacle"))
    assert found >= TERMINALS | {
        "outlet.configuration",
        "outlet.cover",
        "outlet.no_load_voltage",
        "outlet.ground_fault_trip",
    }
    assert left(fitted("none")) == frozenset()


def test_what_was_made_of_it_since_is_owed_no_longer_and_what_was_made_before_still_is() -> None:
    cover: Plain = {"outlet.cover": {"cover": "in_use"}}
    assert "outlet.cover" not in left(fitted("receptacle") | cover)
    assert "outlet.cover" in left(cover | fitted("receptacle"))


@pytest.mark.parametrize(("here", "is_owed"), [(point(), False), (hard_wired(), True)])
def test_only_a_charger_that_is_wired_in_has_terminals_of_the_run(
    here: ChargingPoint, is_owed: bool
) -> None:
    assert (left(fitted("charger"), here) >= TERMINALS) is is_owed
