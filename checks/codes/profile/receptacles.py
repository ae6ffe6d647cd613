"""Receptacles: what they are, what they permit, how they are covered."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.rule import Rule


@dataclass(frozen=True)
class Configuration:
    """A receptacle configuration.

    Parameters
    ----------
    name : str
        Its designation, such as ``"14-50"``.
    volts : tuple of int
        Rated voltages: (125,), (250,) or (125, 250). [V]
    rating_a : int
        Rated current. [A]
    has_ground, has_neutral, is_locking : bool
        Its contacts.
    """

    name: str
    volts: tuple[int, ...]
    rating_a: int
    has_ground: bool
    has_neutral: bool
    is_locking: bool = False

    @property
    def poles(self) -> int:
        """Contacts without the grounding one."""
        return 1 + len(self.volts)

    @property
    def wires(self) -> int:
        """Contacts, the grounding one included."""
        return self.poles + self.has_ground


@dataclass(frozen=True)
class Permission:
    """What a text says of a configuration.

    Parameters
    ----------
    is_plain : bool
        False when the text can be read two ways.
    why : str
        What it says, in our own words.
    least_circuit_a : float
        Only on circuits of at least this rating. [A]
    is_single_only : bool
        Only as a single receptacle on its circuit.
    """

    is_plain: bool
    why: str
    least_circuit_a: float = 0.0
    is_single_only: bool = False


@dataclass(frozen=True)
class ReceptacleTables:
    """Receptacles: configurations, what they permit, and their covers.

    Parameters
    ----------
    configurations : Rule
        Designation, then configuration.
    portable : Mapping
        Designations that portable EV supply equipment may use, each with its rule.
    fastened : Mapping
        Designations that equipment fastened in place may use, each with its rule.
    is_single_below_allowed : Rule
        Whether a single receptacle may be rated below its individual circuit.
    shared_a : Rule
        Circuit rating [A], then receptacle ratings allowed where there are two or more. [A]
    continuous_ratio : Rule
        Share of its rating that a receptacle may carry without end. [-]
    cover : Mapping
        Place (``dry``, ``damp``, ``wet``), then the cover it needs, in words.
    weather_resistant_upto_a : Rule
        In damp and wet places receptacles up to this rating are of the weather-resistant type. [A]
    """

    configurations: Rule[Mapping[str, Configuration]]
    portable: Mapping[str, Rule[Permission]]
    fastened: Mapping[str, Rule[Permission]]
    is_single_below_allowed: Rule[bool]
    shared_a: Rule[Mapping[float, tuple[int, ...]]]
    continuous_ratio: Rule[float]
    cover: Mapping[str, Rule[str]]
    weather_resistant_upto_a: Rule[float]
