"""A number's own limit is in view before it is typed, or the number is only reckoned with.

Design, section 8: one question at a time, with its limit in view before the number is typed and its
margin drawn while it is typed.
"""

from collections.abc import Iterator
from fnmatch import fnmatch
from typing import Final

import pytest

from checks.check import EVERY, AnyInput, Measurement, Rating, Series, Situation
from checks.codes import profile
from checks.path import Scope
from checks.record import SITE
from checks.stations.all import BY_ID, CHECKS
from checks.units import unit
from tests.sound_visits import BASES, built

NEC: Final = profile("nec_2023")
# What has no limit of its own, and why; the sum, drop or ratio made of it is held against one.
RECKONED: Final = {
    "service.rating.service_a": "what the main is held against",
    "*.load.*": "a part of the load that is added up",
    "service.other_sources.*": "a part of what the bus carries in all",
    "*.management.device_a": "what the setting is held against",
    "*.management_sensors.*": "clamp and display are held against each other",
    "*.management_limit.charging": "how many there are decides whether all charge",
    "service.transformer.*": "a part of the transformer's load",
    "panel.rating.bus_a": "what the device ahead is held against",
    "panel.interrupting.available": "what the breakers are held against",
    "panel.feeder_ground.breaker_a": "what the ground of the feeder is held against",
    "panel.working_space.equipment_width": "what the width is held against",
    "*.terminal_torque.label": "what the torque is held against",
    "breaker.temperature.face": "held against its neighbor",
    "breaker.temperature.neighbor": "what the face is held against",
    "run.conductor.*": "corrects the ampacity",
    "run.length.*": "the drop over it is held against a limit",
    "run.dedicated.other_a": "added to the charger's load",
    "outlet.loaded_voltage.*": "drop and heat are worked out of volts and amps together",
    "outlet.no_load_voltage.*": "held against what the main pair makes it out to be",
    "outlet.loop_resistance.*": "held against what metal and supply explain",
    "outlet.ground_fault_trip.test_current": "decides the longest time",
    "charger.offered_current.duty": "the current that it stands for is held against a limit",
    "charger.nameplate.rated_a": "what the setting is held against",
    "charger.fitting.asked": "what the clear space is held against",
    "charger.together.fallback": "a part of what the group falls back to",
    "connector.seating.*_ohm": "one of several signs of a seat",
}


def _numbers() -> Iterator[tuple[str, AnyInput]]:
    for check in CHECKS:
        for asked in check.inputs:
            if isinstance(asked, Measurement | Rating) and not isinstance(asked, Series):
                yield f"{check.id}.{asked.name}", asked


def test_every_number_has_limits_of_its_own_or_a_reason_why_not():
    bare = {name for name, asked in _numbers() if not asked.against}
    without = {name for name in bare if not any(fnmatch(name, p) for p in RECKONED)}
    assert without == set()
    assert [p for p in RECKONED if not any(fnmatch(name, p) for name in bare)] == []


@pytest.mark.parametrize("base", BASES)
def test_its_limit_is_there_before_it_is_typed(base: str):
    made, blind = built(base, {}), []
    for entry in made.entries:
        check = BY_ID[entry.check]
        places = {Scope.SITE: SITE, Scope.PANEL: made.panels[0].id, Scope.POINT: made.points[0].id}
        for asked in check.asked(entry):
            if not getattr(asked, "against", ()) or entry.answer(asked.name) is None:
                continue
            left = tuple(a for a in entry.answers if a.input != asked.name)
            others = tuple(e for e in made.entries if e is not entry)
            begun = entry.model_copy(update={"answers": left})
            visit = made.model_copy(update={"entries": (*others, begun)})
            judged = check.judge(Situation(visit, NEC, places[check.station.scope]))
            dimension = unit(asked.units[0]).dimension
            own = [
                limit
                for limit in judged.limits
                if unit(limit.amount.unit).dimension is dimension
                and (asked.against == EVERY or limit.amount.of in asked.against)
            ]
            if not own:
                blind.append(f"{check.id}.{asked.name}")
    assert blind == []
