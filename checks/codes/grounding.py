"""The equipment grounding conductor's size, and where ground-fault protection is required."""

from checks.codes.answer import Outcome, Ruling, SizeAnswer
from checks.codes.profile import CodeProfile, GroundFaultRule, Rule
from checks.codes.table import band, row


def grounding_size(
    profile: CodeProfile,
    breaker_a: float,
    material: str,
    *,
    installed_size: str | None = None,
    required_size: str | None = None,
    is_rounding_excused: bool = False,
) -> SizeAnswer:
    """Least equipment grounding conductor, enlarged in proportion where the others were.

    The areas that the code prints are rounded, so that a size of the same gauge ratio may miss the
    printed area that is asked for by a hair: 8 to 4 AWG asks 26 242 circular mils where 6 AWG is
    printed with 26 240. By the letter the next size then; whoever excuses the rounding finds the
    same gauge ratio kept.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    breaker_a : float
        Rating of the overcurrent device. [A]
    material : str
        Material of the grounding conductor: ``"copper"`` or ``"aluminum"``. [-]
    installed_size : str or None
        Size of the ungrounded conductors as installed; None when not known. [-]
    required_size : str or None
        Least size that they needed for ampacity, corrections included; None when not known. [-]
    is_rounding_excused : bool
        Let a size pass that misses the area by no more than the rounding of the table. [-]

    Returns
    -------
    SizeAnswer
        Least size, with the working. [-]

    Raises
    ------
    OutOfTableError
        The breaker, the material or a size is not in the tables.

    References
    ----------
    NEC 2023 250.122(A), 250.122(B), table 250.122.
    """
    rule = profile.overcurrent.grounding
    bands = row(rule.value, material, what="material", source=rule.source)
    size = band(bands, breaker_a, what="breaker, A", source=rule.source)
    alone = size
    lines = [f"breaker {breaker_a:g} A: {size} {material} ({rule.source})"]
    sources = [rule.source]
    enlarged = profile.overcurrent.is_grounding_enlarged
    if installed_size and required_size and enlarged.value:
        tolerance = profile.overcurrent.upsizing_tolerance_ratio
        short = tolerance if is_rounding_excused else None
        size, line = _in_proportion(profile, size, (required_size, installed_size), short)
        lines.append(f"{line} ({enlarged.source})")
        sources.insert(0 if size != alone else 1, enlarged.source)
        sources.append(profile.conductors.area_cmil.source)
        sources += [] if short is None else [short.source]
    if installed_size and _area(profile, size) > _area(profile, installed_size):
        size = installed_size
        lines.append(f"never larger than the circuit conductors: {size} ({rule.source})")
    return SizeAnswer(size, tuple(sources), tuple(lines))


def _in_proportion(
    profile: CodeProfile, size: str, enlarged: tuple[str, str], short: Rule[float] | None
) -> tuple[str, str]:
    """Return the smallest size whose area grows as that of the ungrounded conductors did."""
    areas, (required_size, installed_size) = profile.conductors.area_cmil, enlarged
    ratio = _area(profile, installed_size) / _area(profile, required_size)
    if ratio <= 1:
        return size, f"conductors not enlarged beyond {required_size}: no change"
    needed = _area(profile, size) * ratio
    enough = needed if short is None else needed * (1 - short.value)
    fitting = [each for each, area in areas.value.items() if area >= enough]
    chosen = fitting[0] if fitting else installed_size
    excuse = "" if short is None else f"; {100 * short.value:g} % short allowed, {short.source}"
    line = (
        f"conductors {required_size} enlarged to {installed_size}: × {ratio:.4f}, "
        f"{needed:.1f} circular mils by {areas.source}, {chosen}{excuse}"
    )
    return chosen, line


def _area(profile: CodeProfile, size: str) -> int:
    rule = profile.conductors.area_cmil
    return row(rule.value, size, what="size", source=rule.source)


def ground_fault_required(
    profile: CodeProfile,
    *,
    is_receptacle: bool,
    place: str,
    is_dwelling: bool,
    volts_to_ground_v: float,
    breaker_a: float,
    configuration: str | None = None,
) -> Ruling:
    """Whether ground-fault protection for personnel is required upstream of the outlet.

    Parameters
    ----------
    profile : CodeProfile
        The code.
    is_receptacle : bool
        A receptacle, or else a hard-wired outlet. [-]
    place : str
        ``"garage"``, ``"outdoors"``, ``"accessory building"``, ``"basement"``,
        ``"laundry area"``, ``"damp or wet indoors"``, ``"service bay"``, ``"rooftop"`` or
        ``"dry indoors"``. [-]
    is_dwelling : bool
        Whether it belongs to a dwelling. [-]
    volts_to_ground_v : float
        Highest nominal voltage to ground. [V]
    breaker_a : float
        Rating of the overcurrent device. [A]
    configuration : str or None
        Designation of the receptacle; None when not known: then every rule may hold. [-]

    Returns
    -------
    Ruling
        Yes, no, or read two ways. [-]

    References
    ----------
    NEC 2023 625.54, 210.8(A), 210.8(B), 210.8(F).
    """

    def holds(rule: GroundFaultRule) -> bool:
        return (
            rule.is_receptacle in (None, is_receptacle)
            and rule.is_dwelling in (None, is_dwelling)
            and (rule.places is None or place in rule.places)
            and volts_to_ground_v <= rule.upto_v_to_ground
            and breaker_a <= rule.upto_a
            and (
                rule.configurations is None
                or configuration is None
                or configuration in rule.configurations
            )
        )

    found = [rule for rule in profile.charging.ground_fault if holds(rule.value)]
    plain = [rule for rule in found if rule.value.is_plain]
    deciding = plain or found
    if not deciding:
        return Ruling(
            Outcome.NO,
            "no rule of this code asks for ground-fault protection upstream of this outlet; "
            "the charger's instructions may",
            (profile.charging.ground_fault[0].source,),
        )
    return Ruling(
        Outcome.YES if plain else Outcome.READ_TWO_WAYS,
        "; ".join(rule.value.why for rule in deciding),
        tuple(rule.source for rule in deciding),
        deciding[0].force,
    )
