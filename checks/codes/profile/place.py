"""Working space, and how equipment is installed and kept."""

from collections.abc import Mapping
from dataclasses import dataclass

from checks.codes.rule import Band, Rule


@dataclass(frozen=True)
class WorkspaceRules:
    """Working space in front of electrical equipment.

    Parameters
    ----------
    depth_m : Rule
        Bands of voltage to ground [V], then the depth for conditions 1, 2 and 3. [m]
    width_m, height_m : Rule
        Least width and height; the equipment's own where that is more. [m]
    """

    depth_m: Rule[tuple[Band[tuple[float, float, float]], ...]]
    width_m: Rule[float]
    height_m: Rule[float]


@dataclass(frozen=True)
class InstallationRules:
    """How equipment is installed and kept: what is only seen, and the few rules with a number.

    Parameters
    ----------
    seen : Mapping
        Subject, then the rule in our own words.
    source_output_ratio : Rule
        What the output current of another source on the bus counts. [-]
    bus_ratio : Mapping
        Where the other source feeds in (``opposite end``, ``elsewhere``), then the share of the
        bus's rating that all sources together may reach. [-]
    cover_m : Mapping
        What lies above (``general``, ``driveway``, ``street``), then wiring method
        (``cable``, ``armored cable``, ``metal conduit``, ``tubing``, ``protected small circuit``)
        with the least cover; a code has some of them. [m]
    """

    seen: Mapping[str, Rule[str]]
    source_output_ratio: Rule[float]
    bus_ratio: Mapping[str, Rule[float]]
    cover_m: Mapping[str, Rule[Mapping[str, float]]]
