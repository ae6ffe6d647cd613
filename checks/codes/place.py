"""Place: working space, output cable, supply cord, storage of the connector, ventilation."""

from dataclasses import dataclass, replace

from checks.codes.answer import Outcome, Ruling, Worked
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
        replace(rules.width_m, value=max(rules.width_m.value, equipment_width_m)),
        replace(rules.height_m, value=max(rules.height_m.value, equipment_height_m)),
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


def ventilation_required(
    profile: CodeProfile, *, is_indoors: bool, is_listed_without: bool | None
) -> Ruling:
    """Whether charging here needs mechanical ventilation that is interlocked with the charger.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    is_indoors : bool
        In an enclosed place. [-]
    is_listed_without : bool or None
        The equipment is listed for indoor charging without ventilation; None when the marking was
        not seen. [-]

    Returns
    -------
    Ruling
        Yes, no, or read two ways while the marking was not seen. [-]

    References
    ----------
    NEC 2023 625.52(A), (B).
    """
    rule = profile.charging.ventilation.is_interlocked
    if not is_indoors:
        return Ruling(Outcome.NO, "outdoors no ventilation is asked for", (rule.source,))
    if is_listed_without is None:
        why = "the marking that says whether ventilation is needed was not seen"
        return Ruling(Outcome.READ_TWO_WAYS, why, (rule.source,), rule.force)
    if is_listed_without:
        why = "listed for indoor charging without ventilation"
        return Ruling(Outcome.NO, why, (rule.source,), rule.force)
    why = "mechanical ventilation for the whole charge, without which it must not charge"
    return Ruling(Outcome.YES, why, (rule.source,), rule.force)


def ventilation_m3_per_min(
    profile: CodeProfile, nominal_v: float, circuit_a: float, *, phases: int = 1
) -> Worked:
    """Least ventilation for one vehicle, where it is needed at all.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    nominal_v : float
        Nominal volts of the branch circuit. [V]
    circuit_a : float
        Rating of the branch circuit. [A]
    phases : int
        1, or 3 for three-phase. [-]

    Returns
    -------
    Worked
        Rate, as printed in the table, else from volts and amps. [m³/min]

    References
    ----------
    NEC 2023 625.52(B).

    Examples
    --------
    >>> from checks.codes import profile
    >>> round(ventilation_m3_per_min(profile("nec_2023"), 240, 40).value, 1)
    5.6
    """
    rules = profile.charging.ventilation
    tabled = rules.tabled.value.get((round(nominal_v), round(circuit_a))) if phases == 1 else None
    if tabled is not None:
        line = f"{circuit_a:g} A at {nominal_v:g} V: {tabled:.2f} m³/min ({rules.tabled.source})"
        return Worked(tabled, (rules.tabled.source,), (line,), rules.tabled.force)
    rule = rules.va_per_rate
    va = nominal_v * circuit_a * (3**0.5 if phases > 1 else 1.0)
    value = va / rule.value
    line = f"{va:.0f} VA / {rule.value:.0f} = {value:.2f} m³/min ({rule.source})"
    return Worked(value, (rule.source,), (line,), rule.force)
