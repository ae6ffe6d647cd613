"""Cables and raceways: what of them a code permits, and what their metal and names say."""

from dataclasses import dataclass
from enum import StrEnum

from checks.codes.rule import Rule
from checks.source import Source


class Metal(StrEnum):
    """What the metal along a run is as a path for fault current, where no wire is one.

    ``RACEWAY`` may be the equipment grounding conductor; ``ARMOR`` too, by the bonding strip that
    lies under it; ``LIMITED`` only within limits; ``NONE`` is no path.
    """

    RACEWAY = "raceway"
    ARMOR = "armor"
    LIMITED = "limited"
    NONE = "none"


@dataclass(frozen=True)
class WiringMethod:
    """A cable or raceway as a code knows it.

    Parameters
    ----------
    words : str
        What the trade calls it.
    metal : Rule
        What its metal is as a path for fault current.
    letters : Rule, optional
        Insulation letters that its conductors may have; a cable whose own name rates them has
        that one. None where any may be in it.
    dry : Source, optional
        The rule that keeps it out of wet places; None where it may be wet.
    bears_damp : bool
        It may be damp where it may not be wet.
    above_ground : Source, optional
        The rule that keeps it out of the ground, in a raceway too; None where none does.
    cover : str
        Its column in the table of cover; empty where that has none for it.
    is_sunproof : bool
        Whether neither sun nor rain harms it as it is, so that no marking is asked for.
    """

    words: str
    metal: Rule[Metal]
    letters: Rule[tuple[str, ...]] | None = None
    dry: Source | None = None
    bears_damp: bool = False
    above_ground: Source | None = None
    cover: str = ""
    is_sunproof: bool = False

    @property
    def named_letters(self) -> str:
        """The insulation letters, where the cable's name says them; else empty."""
        letters = () if self.letters is None else self.letters.value
        return letters[0] if len(letters) == 1 else ""
