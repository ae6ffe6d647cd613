"""The wiring of the run as it was read off, for every check that sizes something by it."""

from collections.abc import Mapping
from typing import Final

from checks.check import Option, Situation
from checks.codes import PROFILES
from checks.codes.ampacity import Wiring
from checks.codes.answer import SizeAnswer
from checks.codes.circuit import required_circuit_a
from checks.codes.sizing import minimum_size
from checks.electrical.conductor import SIZES
from checks.stations.circuit_facts import breaker_a, charger_load_a, conductor

UNMARKED: Final = "unmarked"

SIZE_OPTIONS: Final = tuple(Option(size) for size in SIZES)
MATERIAL_OPTIONS: Final = (Option("copper", "Copper"), Option("aluminum", "Aluminum"))
# Words for letters that need some; the letters of every code are offered, the visit's decides.
INSULATION_WORDS: Final[Mapping[str, str]] = {
    "THHN": "THHN only",
    "THWN-2": "THWN-2, or THHN/THWN-2",
    "NM": "NM-B conductors",
    "UF": "UF-B conductors",
}
INSULATION_OPTIONS: Final = tuple(
    Option(letters, INSULATION_WORDS.get(letters, ""))
    for letters in dict.fromkeys(
        letters for code in PROFILES.values() for letters in code.conductors.insulation_c
    )
)
METHOD_OPTIONS: Final = (
    Option("NM", "NM cable"),
    Option("UF", "UF cable"),
    Option("MC", "Metal-clad cable"),
    Option("RMC", "Rigid or intermediate metal"),
    Option("EMT", "Metallic tubing (EMT)"),
    Option("PVC", "PVC conduit"),
    Option("FMC", "Flexible metal conduit"),
    Option("LFMC", "Liquidtight flexible metal"),
    Option("LFNC", "Liquidtight flexible plastic"),
    Option("ENT", "Nonmetallic tubing"),
)
TERMINAL_OPTIONS: Final = (
    Option(UNMARKED, "No marking seen"),
    Option("60", "60 °C"),
    Option("75", "75 °C"),
    Option("90", "90 °C"),
)


def is_wet(s: Situation) -> bool | None:
    """Return whether any part of the run is in a wet place, as what is buried always is."""
    return True if s.yes("run.protection.is_buried") else s.yes("run.conductor.is_wet")


def wiring(s: Situation) -> Wiring | None:
    """Return how the run is wired, or nothing while a part of it is not recorded."""
    what, insulation = conductor(s), s.choice("run.conductor.insulation")
    method, wet = s.choice("run.conductor.method"), is_wet(s)
    marked = s.choice("run.conductor.terminals")
    ambient_c, carrying = s.rating("run.conductor.ambient"), s.rating("run.conductor.carrying")
    if what is None or insulation is None or method is None or wet is None or marked is None:
        return None
    if ambient_c is None or carrying is None:
        return None
    size, material = what
    return Wiring(
        size=size,
        material=material,
        insulation=insulation,
        cable=method,
        is_wet=wet,
        ambient_c=ambient_c,
        current_carrying=int(carrying),
        marked_c=None if marked == UNMARKED else int(marked),
    )


def required_size(s: Situation, installed: Wiring) -> SizeAnswer | None:
    """Return the least size that this circuit needs, or nothing while its load is not known.

    Raises
    ------
    OutOfTableError
        The code's tables do not answer it.
    """
    load_a, rated_a = charger_load_a(s), breaker_a(s)
    if load_a is None and rated_a is None:
        return None
    if rated_a is None:
        rated_a = required_circuit_a(s.code, load_a or 0.0).value
    return minimum_size(s.code, installed, load_a or 0.0, rated_a)
