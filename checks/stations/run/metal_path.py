"""The metal along the run as the path for fault current, where no wire is one."""

from collections.abc import Mapping
from typing import Final

from checks.check import Situation, compare, not_measured, seen, unsettled
from checks.codes.profile import GroundBounds, Metal, Rule
from checks.quantity import nominal
from checks.source import Source
from checks.stations.circuit_facts import breaker_a, run_length_m
from checks.stations.run.wiring import method
from checks.verdict import Judgement, Severity, Verdict, at_most, decide

SHOCK: Final = "Without a sound path back, a fault leaves the charger's metal alive under a hand"
PULL: Final = "Pull a wire-type grounding conductor, or connect the one that the cable holds"
# How it was said to be grounded, and what the metal is.
GROUNDS: Final[Mapping[tuple[str, Metal], str]] = {
    ("raceway", Metal.RACEWAY): "The metal raceway is the grounding conductor",
    ("armor", Metal.ARMOR): "The armor with its bonding strip is the grounding conductor",
}


def may_have_armor(s: Situation) -> bool:
    """Return whether the code knows a cable whose armor may ground the circuit."""
    return any(each.metal.value is Metal.ARMOR for each in s.code.methods.values())


def judge_without_wire(s: Situation, kind: str) -> Judgement:
    """Return what grounds the circuit where no wire does, by how it was said to be grounded."""
    source, known = s.code.installation.seen["grounding path"].source, method(s)
    if kind == "none":
        return _no_path("There is no equipment grounding conductor", source)
    if known is None and kind != "flexible":
        return not_measured("Record the cable or raceway first, at the conductors")
    if known is not None:
        metal = known.metal
        if metal.value is Metal.NONE:
            return _no_path(
                f"No wire grounds it, and {known.words} along the run is no metal path",
                metal.source,
            )
        if (kind, metal.value) in GROUNDS:
            return seen(True, explanation=GROUNDS[kind, metal.value], source=metal.source)
        source = metal.source if metal.value is Metal.LIMITED else source
        if known.bounds is not None:
            beyond = _beyond(s, known.words, known.bounds)
            if beyond is not None:
                return beyond
    return unsettled(
        "The metal of a flexible conduit or cable is the only grounding path; it serves only "
        "within limits",
        "Check listing, length, trade size, fittings and breaker against the adopted edition",
        remedy=PULL,
        why=SHOCK,
        sources=(source,),
    )


def _beyond(s: Situation, words: str, bounds: Rule[GroundBounds]) -> Judgement | None:
    """Return the finding where breaker or length surely lies beyond what such metal may ground.

    Nothing where neither does: trade size, fittings and listing then still decide.
    """
    most, force, source = bounds.value, bounds.force, bounds.source
    by_a = at_most(most.upto_a, "A", force, source, of="breaker, flexible metal as the ground")
    by_m = at_most(most.upto_m, "m", force, source, of="flexible metal in the fault path")
    for value, limit in ((breaker_a(s), by_a), (run_length_m(s), by_m)):
        if value is not None and decide(value, (limit,)) is Verdict.OUTSIDE:
            return compare(
                value,
                limit.amount.unit,
                (limit,),
                explanation=f"{words} is the only grounding path, at "
                f"{nominal(value):.3g} {limit.amount.unit}",
                why="Its thin metal has too much resistance: the breaker opens late or not at "
                "all, and a fault leaves the charger's metal alive under a hand",
                remedy=f"Keep the circuit dead and locked. {PULL}",
                severity=Severity.WARNING,
            )
    return None


def _no_path(words: str, source: Source) -> Judgement:
    return seen(
        False,
        explanation=words,
        source=source,
        why=SHOCK,
        remedy="Keep the circuit dead and locked; install a grounding conductor with the circuit",
        severity=Severity.DANGER,
    )
