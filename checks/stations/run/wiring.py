"""The wiring of the run as it was read off, for every check that sizes something by it."""

from collections.abc import Mapping
from functools import partial
from typing import Final

from checks.check import Option, Situation
from checks.codes import PROFILES
from checks.codes.ampacity import Wiring
from checks.codes.answer import SizeAnswer
from checks.codes.circuit import required_circuit_a
from checks.codes.profile import WiringMethod
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
METHODS: Final[Mapping[str, WiringMethod]] = {
    name: each for code in PROFILES.values() for name, each in code.methods.items()
}


def _is_known(name: str, s: Situation) -> bool:
    """Return whether the visit's code knows a cable or raceway."""
    return name in s.code.methods


# What every code knows, the raceways, comes after the cables that one alone does.
METHOD_OPTIONS: Final = tuple(
    Option(name, METHODS[name].words, where=partial(_is_known, name))
    for name in sorted(
        METHODS, key=lambda name: all(name in code.methods for code in PROFILES.values())
    )
)
# Cables whose name does not say the insulation, and those that thermal insulation may cap.
UNNAMED: Final = tuple(name for name, each in METHODS.items() if not each.named_letters)
INSULATED: Final = tuple(
    dict.fromkeys(name for code in PROFILES.values() for name in code.conductors.insulated_cap_c)
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


def method(s: Situation) -> WiringMethod | None:
    """Return the cable or raceway as the visit's code knows it; nothing where it knows none."""
    return s.code.methods.get(s.choice("run.conductor.method") or "")


def wiring(s: Situation) -> Wiring | None:
    """Return how the run is wired, or nothing while a part of it is not recorded."""
    what, known = conductor(s), method(s)
    insulation = known.named_letters if known is not None else ""
    insulation = insulation or s.choice("run.conductor.insulation") or ""
    cable, wet = s.choice("run.conductor.method"), is_wet(s)
    marked = s.choice("run.conductor.terminals")
    is_in_insulation = cable in INSULATED and s.yes("run.conductor.is_in_insulation")
    ambient_c, carrying = s.rating("run.conductor.ambient"), s.rating("run.conductor.carrying")
    if what is None or not insulation or cable is None or wet is None or marked is None:
        return None
    if ambient_c is None or carrying is None or is_in_insulation is None:
        return None
    size, material = what
    return Wiring(
        size=size,
        material=material,
        insulation=insulation,
        cable=cable,
        is_in_insulation=is_in_insulation,
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
