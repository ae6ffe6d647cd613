"""Every clue, from symptoms to signals; each is read from one check of the visit."""

from typing import Final

from checks.causes.clue import Clue
from checks.causes.clues import circuit, heat, panel, service, signals, symptoms

CLUES: Final[tuple[Clue, ...]] = (
    *symptoms.CLUES,
    *circuit.CLUES,
    *heat.CLUES,
    *panel.CLUES,
    *service.CLUES,
    *signals.CLUES,
)
