"""A part that was replaced: what was said of the old one says nothing of the new one."""

from collections.abc import Collection, Mapping
from typing import Final, NamedTuple

from checks.path import Scope, Station
from checks.record import Attachment, ChargingPoint, Chosen, Entry, Visit

REPAIR: Final = "surroundings.repair"  # says what was replaced

_PARTS: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": ("breaker",),
    "bus": ("breaker", "bus"),
    "receptacle": ("receptacle",),
    "both": ("breaker", "receptacle"),
    "charger": ("charger",),
}
_STATIONS: Final[Mapping[Station, str]] = {
    Station.BREAKER: "breaker",
    Station.OUTLET: "receptacle",
    Station.CHARGER: "charger",
    Station.CONNECTOR: "charger",
}
# Elsewhere on the path: of the same part, joined to it, or measured through it.
_BESIDE: Final[Mapping[str, tuple[str, ...]]] = {
    "breaker": (
        "panel.breaker_listed",
        "panel.interrupting",
        "run.conductor.terminals",
        "run.conductor.is_marked_al",
        "outlet.loaded_voltage",
        "outlet.loop_resistance",
        "outlet.ground_fault",
        "outlet.ground_fault_trip",
        "outlet.series_devices",
    ),
    "bus": (
        "panel.rating",
        "panel.breaker_listed",
        "panel.interrupting",
        "panel.condition",
        "panel.terminals",
        "panel.terminal_torque",
        "panel.neutral_bond",
    ),
    "receptacle": (
        "run.conductor.terminals",
        "run.conductor.is_marked_al",
        "run.polarity",
        "run.protective_conductor",
    ),
    "charger": (
        "outlet.loaded_voltage",
        "outlet.temperature",
        "outlet.mounting",
        "outlet.series_devices",
        "adapter.temperature",
        "vehicle.power",
        "surroundings.reach",
    ),
}
# A hard-wired charger has the terminals of its outlet in its own housing.
_WIRED: Final = (
    "run.conductor.terminals",
    "run.conductor.is_marked_al",
    "run.polarity",
    "run.protective_conductor",
    "outlet.damage",
    "outlet.terminal_torque",
    "outlet.termination",
)
# What is told of the fault, and what each circuit state proves anew.
STAYS: Final = frozenset(
    {
        "breaker.lock_and_tag",
        "breaker.absence_of_voltage",
        "breaker.trip_history",
        "outlet.ground_fault_history",
        "outlet.burn_pattern",
        "charger.behavior",
        "connector.release",
    }
)

Key = tuple[str, str]  # a check and its subject


class Gone(NamedTuple):
    """An entry to be made again: a part was replaced, a fact corrected, or a question came since.

    Parameters
    ----------
    part : str
        Breaker, bus, receptacle or charger; empty where a fact was corrected or a question came.
    number : int
        The number of the repair or the correction that says so; where a question came, the next
        one to the entry's.
    left : Entry, optional
        What still holds of the entry, where only some of its answers are of the part; all of it
        where a question came.
    said : str
        What is told of it where a fact was corrected or a question came.
    """

    part: str
    number: int
    left: Entry | None = None
    said: str = ""

    @property
    def is_open(self) -> bool:
        """Whether all that it says holds, and a question is asked now that it does not answer."""
        return not self.part and self.left is not None


class Replacement(NamedTuple):
    """A repair that replaced parts.

    Parameters
    ----------
    number : int
        The number of its entry.
    parts : tuple of str
        Breaker, bus, receptacle or charger.
    subjects : frozenset of str
        The charging points and panels that have a new part.
    is_wired : bool
        Whether the charger is connected without a receptacle.
    """

    number: int
    parts: tuple[str, ...]
    subjects: frozenset[str]
    is_wired: bool


def of_gone_parts(visit: Visit, latest: Mapping[Key, Entry]) -> dict[Key, Gone]:
    """Return the entries that are of a part which a later repair replaced.

    Every repair counts: a later one brings no part back.

    Parameters
    ----------
    visit : Visit
        The record.
    latest : Mapping
        The entries that count, by check and subject.
    """
    found: dict[Key, Gone] = {}
    for made in replacements(visit):
        for (check, subject), entry in latest.items():
            if subject not in made.subjects or entry.number > made.number:
                continue
            for part in made.parts:
                of = _of(check, part, is_wired=made.is_wired)
                if of is not None:
                    found[check, subject] = Gone(part, made.number, _without(entry, of))
    return found


def replacements(visit: Visit) -> list[Replacement]:
    """Return each repair that replaced something, as they came.

    Parameters
    ----------
    visit : Visit
        The record.
    """
    points = {p.id: p for p in visit.points}
    found = []
    for entry in sorted(visit.entries, key=lambda e: e.number):
        said = entry.answer("replaced") if entry.check == REPAIR else None
        parts = _PARTS.get(said.option, ()) if isinstance(said, Chosen) else ()
        if parts and entry.subject in points:
            found.append(_replacement(visit, entry.number, points[entry.subject], parts))
    return found


def _replacement(
    visit: Visit, number: int, point: ChargingPoint, parts: tuple[str, ...]
) -> Replacement:
    stood = visit.as_it_stood(number).point(point.id)
    panels = {stood.panel, point.panel}  # it was done where the point was fed from, as was said
    here = {point.id, *panels}
    if "bus" in parts:  # every breaker comes off a bus that is replaced
        here |= {p.id for p in visit.points if p.panel in panels}
    is_wired = Attachment.HARD_WIRED in (stood.attachment, point.attachment)
    return Replacement(number, parts, frozenset(here), is_wired)


def _of(check: str, part: str, *, is_wired: bool) -> Collection[str] | None:
    """Return which answers of a check are of a part; empty for all of it, nothing for none."""
    station = Station(check.split(".", 1)[0])
    if check in STAYS or station.scope is Scope.SITE:
        return None
    beside = (*_BESIDE[part], *(_WIRED if is_wired and part == "charger" else ()))
    if _STATIONS.get(station) == part or check in beside:
        return ()
    inputs = [name for at, _, name in (b.rpartition(".") for b in beside) if at == check]
    return inputs or None


def _without(entry: Entry, inputs: Collection[str]) -> Entry | None:
    kept = tuple(a for a in entry.answers if a.input not in inputs)
    return entry.model_copy(update={"answers": kept}) if inputs else None
