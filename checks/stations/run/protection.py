"""The run where it lies: protected, supported, fit for wet places, deep enough."""

from math import inf
from typing import Final

from checks.check import (
    EVERY,
    Check,
    Choice,
    Measurement,
    Option,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.profile import WiringMethod
from checks.quantity import amount
from checks.record import InstrumentKind
from checks.source import trade
from checks.stations.circuit_facts import breaker_a, circuit_poles, is_dwelling
from checks.stations.observing import DAMAGED, Sign, sees, signs_of
from checks.stations.run.wiring import is_wet, method
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_least

CHECK: Final = "run.protection"
SIGNS: Final = (
    Sign(
        YesNo("is_protected", "Guarded against damage", good=True),
        "damage",
        "The run lies open to knocks, nails or vehicles",
        "A nicked cable shorts or puts the wall at line voltage",
        "Keep it dead where it is nicked; reroute it or sleeve it, and plate it behind wall faces",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_supported", "Secured and supported", good=True),
        "support",
        "The run is not secured along its way",
        "Weight pulls at terminals and wears the jacket",
        "Secure it at the spacing its kind asks for, and near each box",
        Severity.CAUTION,
    ),
    Sign(
        YesNo("has_bushings", "Clamp or bushing at entries", good=True),
        trade("every entry into a box holds the cable and covers the metal's edge"),
        "A cable enters a box without clamp or bushing",
        "The edge cuts the jacket, and a pull reaches the terminals",
        "Dead and locked: fit the listed clamp or bushing",
        Severity.WARNING,
    ),
)

DAMAGE: Final = "run.damage"
DAMAGE_SIGNS: Final = (
    Sign(
        YesNo("is_damaged", "Nicked, crushed or burnt", good=False, says=DAMAGED),
        "integrity",
        "The run is nicked, crushed or burnt",
        "Damaged insulation fails when it is wet or warm",
        "Keep the circuit dead and locked; replace the damaged length",
        Severity.DANGER,
    ),
)

SMALL_A: Final = 20.0
SMALL: Final = "protected small circuit"


def _is_small_and_protected(s: Situation) -> bool:
    """Return whether the buried part is a dwelling's small circuit behind a ground-fault device."""
    amps = breaker_a(s)
    is_protected = s.choice("outlet.ground_fault.device") == "breaker"  # one at the outlet is later
    is_small = circuit_poles(s) == 1 and amps is not None and amps <= SMALL_A
    return is_small and is_protected and is_dwelling(s)


def _judge(s: Situation) -> Judgement:
    parts = [*signs_of(s, CHECK, SIGNS), *_judge_wet(s)]
    buried = s.yes("run.protection.is_buried")
    if buried is None:
        parts.append(not_measured("Still open: is any part buried"))
    elif buried:
        parts.append(_judge_cover(s))
    depth = [part.explanation for part in parts if part.measured]
    return together(parts, good=". ".join(["Guarded, supported, fit for where it lies", *depth]))


def _judge_wet(s: Situation) -> tuple[Judgement, ...]:
    known = method(s)
    if known is None or known.dry is None:
        return ()
    if not is_wet(s):
        return _judge_its_end(s, known)
    return (
        seen(
            False,
            explanation=f"{known.words} is buried, and what is buried is wet"
            if s.yes("run.protection.is_buried")
            else f"{known.words} runs in a wet place",
            source=known.dry,
            why="Water gets into it and along its conductors to the terminals",
            remedy="Replace that part with a wiring method for wet places",
            severity=Severity.WARNING,
        ),
    )


def _judge_its_end(s: Situation, known: WiringMethod) -> tuple[Judgement, ...]:
    """Return what is open where the bay that it comes to is not dry, and it is said to be."""
    place = s.choice("surroundings.place.wetness")
    if place not in ("damp", "wet") or (place == "damp" and known.bears_damp):
        return ()
    return (
        unsettled(
            f"{known.words} comes to a place that is {place}, and is said to lie dry",
            "See how its last part lies: in a dry wall up to the box, or where damp reaches it",
            why="Water gets into it and along its conductors to the terminals",
            remedy="Where damp reaches it, replace that part with a wiring method for such places",
            sources=() if known.dry is None else (known.dry,),
        ),
    )


def _cover_limit(s: Situation, column: str) -> Limit | None:
    rule = s.code.installation.cover_m.get(s.choice("run.protection.above") or "general")
    if rule is None or column not in rule.value:
        return None
    if _is_small_and_protected(s) and rule.value.get(SMALL, inf) < rule.value[column]:
        column = SMALL
    symbol = s.unit_of("run.protection.cover", "m")
    return at_least(
        rule.value[column], symbol, Force.CODE_RULE, rule.source, of=f"cover over {column}"
    )


def _judge_cover(s: Situation) -> Judgement:
    known = method(s)
    if known is None:
        return not_measured("Record the cable or raceway first: the depth depends on it")
    if known.above_ground is not None:
        return seen(
            False,
            explanation=f"{known.words} is buried, and is not for underground, in a raceway either",
            source=known.above_ground,
            why="Water stands there and eats a bare aluminum conductor away",
            remedy="Replace that part with a cable or conductors that are listed for burial",
            severity=Severity.WARNING,
        )
    limit = _cover_limit(s, known.cover)
    if limit is None:
        return unsettled(
            f"{known.words} is buried, and the table of depths has no column for it here",
            "Ask the authority having jurisdiction",
            remedy="Use a wiring method that is listed for burial",
            severity=Severity.WARNING,
            sources=(
                trade("what no table of depths names is buried by leave of the authority alone"),
            ),
        )
    depth_m = s.measured("run.protection.cover")
    if depth_m is None or s.choice("run.protection.above") is None:
        return not_measured("Still open: cover, and what lies above", (limit,))
    return compare(
        depth_m,
        s.unit_of("run.protection.cover", "m"),
        (limit,),
        explanation=f"The run lies {amount(depth_m, limit.amount.unit)} below the surface",
        why="A spade or a fence post reaches what is not deep enough",
        remedy="Lower the run, change to metal conduit, or protect it as the adopted edition asks",
        severity=Severity.CAUTION,
    )


BURIED: Final = When("is_buried", ("yes",))
CHECKS: Final = (
    Check(
        id=DAMAGE,
        title="Damage along the run",
        how="Walk the run from panel to outlet, covers on; look at every part that can be seen. "
        "Touch nothing that is nicked or burnt.",
        inputs=tuple(sign.input for sign in DAMAGE_SIGNS),
        judge=sees(DAMAGE, DAMAGE_SIGNS, "No damage along the run"),
        gates=True,
        no_limit_because="damage is seen, not measured",
    ),
    Check(
        id=CHECK,
        title="Run, where it lies",
        quantity="Depth",
        how="Walk the run from panel to outlet, covers on. At a trench, measure from the surface "
        "to the top of cable or conduit before it is filled.",
        inputs=(
            *(sign.input for sign in SIGNS),
            YesNo("is_buried", "Any part buried"),
            Choice(
                "above",
                "What lies above",
                options=(
                    Option("general", "Garden, path, lawn"),
                    Option("driveway", "Driveway of a dwelling"),
                    Option("street", "Street or parking lot"),
                ),
                when=BURIED,
            ),
            Measurement(
                "cover",
                "Cover",
                dimension=Dimension.LENGTH,
                units=("m", "cm", "in"),
                plausible=(0.1, 1.5),
                instruments=(InstrumentKind.TAPE,),
                access_point="surface to top of the run, in the trench",
                against=EVERY,
                when=BURIED,
            ),
        ),
        judge=_judge,
    ),
)
