"""The metal along the run as the path for fault current, where no wire is one."""

from collections.abc import Mapping
from typing import Final

from checks.check import Situation, not_measured, seen, unsettled
from checks.codes.profile import Metal
from checks.source import Source
from checks.stations.run.wiring import method
from checks.verdict import Judgement, Severity

SHOCK: Final = "Without a sound path back, a fault leaves the charger's metal alive under a hand"
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
    return unsettled(
        "The metal of a flexible conduit or cable is the only grounding path; it serves only "
        "within limits",
        "Check listing, length, trade size, fittings and breaker against the adopted edition",
        remedy="Pull a wire-type grounding conductor, or connect the one that the cable holds",
        why=SHOCK,
        sources=(source,),
    )


def _no_path(words: str, source: Source) -> Judgement:
    return seen(
        False,
        explanation=words,
        source=source,
        why=SHOCK,
        remedy="Keep the circuit dead and locked; install a grounding conductor with the circuit",
        severity=Severity.DANGER,
    )
