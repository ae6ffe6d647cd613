"""The charger's cords: output cable to the vehicle, supply cord to the receptacle."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    YesNo,
    compare,
    not_measured,
    seen,
)
from checks.codes.place import output_cable_m, supply_cord_m
from checks.codes.profile import Rule
from checks.stations.outlet.where import is_fastened, receptacle_only
from checks.units import Dimension
from checks.verdict import Judgement, Limit, Severity, at_most


def _length_limit(rule: Rule[float], of: str) -> Limit:
    return at_most(rule.value, "m", rule.force, rule.source, of=of)


def _judge_cable(s: Situation) -> Judgement:
    rule = output_cable_m(s.code)
    limit = _length_limit(rule, "usable cable")
    length_m, managed = s.rating("charger.cable.length"), s.yes("charger.cable.is_managed")
    if length_m is None or managed is None:
        return not_measured("Length and cable management are missing", (limit,))
    if managed:
        return seen(
            True,
            explanation=f"{length_m:.1f} m of cable with the listed cable management",
            source=rule.source,
        ).model_copy(update={"limits": (limit,)})
    return compare(
        length_m,
        "m",
        (limit,),
        explanation=f"{length_m:.1f} m of cable without cable management",
        why="A long cable lies on the ground, is driven over, and someone trips on it",
        remedy="Fit the listed cable management, or a shorter cable of the maker",
        severity=Severity.CAUTION,
        of="usable cable",
    )


def _judge_cord(s: Situation) -> Judgement:
    length_m = s.rating("charger.supply_cord.length")
    protection = s.choice("charger.supply_cord.protection")
    form = "fastened" if is_fastened(s) else "portable"
    cord = "protected plug" if protection == "plug" else form
    limit = _length_limit(supply_cord_m(s.code, cord), "supply cord")
    if length_m is None or protection is None:
        return not_measured("Length of the cord and place of its protection are missing", (limit,))
    return compare(
        length_m,
        "m",
        (limit,),
        explanation=f"{length_m:.2f} m of supply cord, protection in the "
        + ("plug" if protection == "plug" else "charger's case"),
        why="The cord before the protection is protected by the breaker alone",
        remedy="Use the cord that came with the charger; never lengthen it",
        severity=Severity.WARNING,
        of="supply cord",
    )


def _meters(name: str, label: str, high_m: float) -> Rating:
    return Rating(
        name,
        label,
        dimension=Dimension.LENGTH,
        units=("m", "ft"),
        plausible=(0.1, high_m),
        against=EVERY,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="charger.cable",
        touches=True,
        title="Output cable",
        quantity="Cable",
        how=(
            "Read the usable length from the marking, or measure from the cable's exit (portable: "
            "from the plug's face) to the face of the connector."
        ),
        inputs=(
            _meters("length", "Usable length", 15.0),
            YesNo("is_managed", "Listed cable management"),
        ),
        judge=_judge_cable,
    ),
    Check(
        id="charger.supply_cord",
        touches=True,
        title="Supply cord",
        quantity="Cord",
        how="Measure the cord from plug to case; see where its protection sits.",
        inputs=(
            _meters("length", "Cord length", 8.0),
            Choice(
                "protection",
                "Its protection sits",
                options=(
                    Option("case", "In the charger's case"),
                    Option("plug", "In the plug or by it"),
                ),
                help="By it: within 0.3 m (12 in) of the plug",
            ),
        ),
        judge=_judge_cord,
        applies=receptacle_only,
    ),
)
