"""Lengths and heights: working space, output cable, supply cord, storage of the connector."""

from dataclasses import dataclass

from checks.codes.profile import CodeProfile, Rule
from checks.codes.table import band, row
from checks.errors import OutOfTableError


@dataclass(frozen=True)
class WorkingSpace:
    """Least depth, width and height of the space in front of equipment. [m]."""

    depth_m: Rule[float]
    width_m: Rule[float]
    height_m: Rule[float]


def working_space(
    profile: CodeProfile,
    volts_to_ground_v: float,
    *,
    condition: int = 1,
    equipment_width_m: float = 0.0,
    equipment_height_m: float = 0.0,
) -> WorkingSpace:
    """Least working space in front of electrical equipment.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    volts_to_ground_v : float
        Highest nominal voltage to ground. [V]
    condition : int
        1 nothing live or grounded opposite, 2 grounded parts opposite, 3 live parts opposite. [-]
    equipment_width_m : float
        Width of the equipment. [m]
    equipment_height_m : float
        Height of the equipment. [m]

    Returns
    -------
    WorkingSpace
        Depth, width and height. [m]

    Raises
    ------
    OutOfTableError
        Voltage or condition is not in the table.

    References
    ----------
    NEC 2023 110.26(A).
    """
    rules = profile.workspace
    depths = band(
        rules.depth_m.value,
        volts_to_ground_v,
        what="voltage to ground, V",
        source=rules.depth_m.source,
    )
    if not 1 <= condition <= len(depths):
        raise OutOfTableError(
            f"{rules.depth_m.source} has no condition {condition}",
            where="Panel, working space",
            remedy="Use condition 1, 2 or 3",
        )
    return WorkingSpace(
        Rule(depths[condition - 1], rules.depth_m.source, rules.depth_m.force),
        Rule(max(rules.width_m.value, equipment_width_m), rules.width_m.source),
        Rule(max(rules.height_m.value, equipment_height_m), rules.height_m.source),
    )


def storage_height_m(profile: CodeProfile, *, is_outdoors: bool) -> Rule[float]:
    """Least height at which the connector is stored, unless listed and marked otherwise.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    is_outdoors : bool
        Outdoors, or else indoors. [-]

    Returns
    -------
    Rule of float
        Height above the floor. [m]

    References
    ----------
    NEC 2023 625.50; not for portable equipment.
    """
    rule = profile.charging.storage_height_m
    return Rule(rule.value["outdoors" if is_outdoors else "indoors"], rule.source, rule.force)


def output_cable_m(profile: CodeProfile) -> Rule[float]:
    """Longest usable output cable without cable management.

    Parameters
    ----------
    profile : CodeProfile
        The code.

    Returns
    -------
    Rule of float
        Length. [m]

    References
    ----------
    NEC 2023 625.17(C).
    """
    return profile.charging.output_cable_m


def supply_cord_m(profile: CodeProfile, kind: str) -> Rule[float]:
    """Longest supply cord.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    kind : str
        ``"portable"`` or ``"fastened"`` with the protection inside the enclosure, or
        ``"protected plug"`` with it in the plug or within 300 mm of it. [-]

    Returns
    -------
    Rule of float
        Length. [m]

    Raises
    ------
    OutOfTableError
        The kind is not known.

    References
    ----------
    NEC 2023 625.17(A).
    """
    rule = profile.charging.supply_cord_m
    length_m = row(rule.value, kind, what="kind of cord", source=rule.source)
    return Rule(length_m, rule.source, rule.force)
