"""All checks against the outside, in one place."""

from tests.reference import (
    ampacity,
    behavior,
    canadian,
    cells,
    charging,
    circuits,
    conductors,
    drop,
    dwelling,
    grounding,
    houses,
    load,
    receptacles,
    signals,
)

CASES = (
    *conductors.CASES,
    *ampacity.CASES,
    *drop.CASES,
    *receptacles.CASES,
    *charging.CASES,
    *circuits.CASES,
    *grounding.CASES,
    *load.CASES,
    *signals.CASES,
    *dwelling.CASES,
    *houses.CASES,
    *canadian.CASES,
    *behavior.CASES,
    *cells.CASES,
)
