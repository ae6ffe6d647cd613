"""The service beside its rating: electrode, surge protection, meter, the customer's transformer."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    known_part,
    not_measured,
    seen,
)
from checks.record import VisitKind
from checks.source import judgement, trade
from checks.stations.circuit_facts import charger_loads, is_dwelling
from checks.stations.observing import Sign, rule_source, sees
from checks.stations.upstream import Loads, flows, held_va
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, at_most

WORK: Final = (VisitKind.COMMISSIONING, VisitKind.SITE_RECORD)

GROUNDING: Final = "service.grounding"
GROUNDING_SIGNS: Final = (
    Sign(
        YesNo("is_electrode_there", "Grounding electrode there", good=True),
        trade("an electrode in the ground is joined to the service's neutral by a sound clamp"),
        "No grounding electrode is connected that can be seen",
        "Lightning and the utility's faults then raise every case at this site",
        "Have electrode, conductor and clamp put right before a load is added",
        Severity.WARNING,
    ),
)

SURGE_WORDS: Final = {
    "service": "Surge protection at the service",
    "panels": "Surge protection at the next panels",
}


def _judge_surge(s: Situation) -> Judgement:
    source = rule_source(s, "surge")
    device = s.choice("service.surge.device")
    if device is None:
        return not_measured("Still open: surge protection", sources=(source,))
    if device in SURGE_WORDS:
        return seen(True, explanation=SURGE_WORDS[device], source=source)
    is_new = s.yes("service.surge.is_replaced")
    if is_new is None:
        return not_measured("Still open: is the service new or replaced", sources=(source,))
    if not is_new:
        old = trade("a rule asks nothing of a service that was there before it")
        return seen(True, explanation="None, and the service is an older one", source=old)
    return seen(
        False,
        explanation="The dwelling's service is new, and has no surge protection",
        source=source,
        why="One surge can end a charger's electronics and its ground-fault device",
        remedy="Have a listed surge-protective device of type 1 or 2 fitted at the service",
        severity=Severity.CAUTION,
    )


def _dwelling_only(s: Situation) -> str:
    return "" if is_dwelling(s) else "asked for dwellings"


METERED: Final = trade("what several people use is fed from the meter of the common areas")


def _shared_only(s: Situation) -> str:
    own = s.choice("service.papers.property") == "own"
    return "the owner's own place, behind one meter" if own else ""


def _judge_meter(s: Situation) -> Judgement:
    meter = s.choice("service.metering.meter")
    if meter is None:
        return not_measured("Still open: which meter feeds the chargers", sources=(METERED,))
    return seen(
        meter != "dwelling",
        explanation={
            "user": "Fed from the meter of who uses it",
            "common": "Fed from the meter of the common areas",
            "dwelling": "What several people use is fed from one dwelling's meter",
        }[meter],
        source=METERED,
        why="Who pays may switch it off, and who works on it finds the wrong panel",
        remedy="Have it fed from the meter of the common areas",
        severity=Severity.WARNING,
    )


NAMEPLATE: Final = trade("a transformer bears its nameplate for as long as charging lasts")
EVEN: Final = judgement("chargers and other load share the transformer's windings evenly")


def _no_dwelling(s: Situation) -> str:
    return "a dwelling: the transformer is the utility's" if is_dwelling(s) else ""


def _judge_transformer(s: Situation) -> Judgement:
    present = s.yes("service.transformer.is_present")
    if present is None:
        return not_measured("Still open: does the site own a transformer", sources=(NAMEPLATE,))
    if not present:
        return seen(True, explanation="The transformer is the utility's", source=NAMEPLATE)
    rated_va = s.rating("service.transformer.rated")
    if rated_va is None:
        return not_measured("Read the transformer's nameplate", sources=(NAMEPLATE,))
    limit = at_most(rated_va, "kVA", Force.TRADE_JUDGEMENT, NAMEPLATE, of="transformer's nameplate")
    other_va, loads = s.rating("service.transformer.other"), charger_loads(s)
    missing = loads.missing or ("Still open: highest other load" if other_va is None else "")
    return known_part(_judge_windings(s, limit, other_va, loads.known), missing)


def _judge_windings(s: Situation, limit: Limit, other_va: float | None, loads: Loads) -> Judgement:
    charging_va, line = _chargers_va(s, loads)
    total_va = (other_va or 0.0) + charging_va
    words = f"On the transformer without its other load: {line}"
    if other_va is not None:
        words = f"Other load {other_va / 1000:g} kVA and {line} add up to {total_va / 1000:.4g} kVA"
    return compare(
        total_va,
        "kVA",
        (limit,),
        explanation=words,
        why="Hours of charging leave a transformer no time to cool",
        remedy="Have load management hold the chargers to less, or the transformer replaced",
        severity=Severity.WARNING,
        of="load on the transformer",
        working=(f"{line}; {EVEN}",),
    )


def _chargers_va(s: Situation, loads: Loads) -> tuple[float, str]:
    """Return the chargers' load, and its words."""
    full_va = held_va(s, loads, None)
    managed_a = s.rating("service.load.managed_a")
    is_held = s.yes("service.load.is_managed") and s.choice("service.load.manages") == "chargers"
    below_va = sum(held_va(s, flow.loads, flow.held_a) for flow in flows(s, loads))
    drawn_va = min(below_va, held_va(s, loads, managed_a if is_held else None))
    if round(drawn_va) == round(full_va):
        return full_va, f"{len(loads)} chargers {full_va / 1000:.4g} kVA"
    return drawn_va, f"{len(loads)} chargers, held by load management, {drawn_va / 1000:.4g} kVA"


KVA: Final = ("kVA",)
OWNED: Final = When("is_present", ("yes",))
CHECKS: Final = (
    Check(
        id=GROUNDING,
        title="Grounding electrode",
        how="Follow the grounding electrode conductor from the service to its clamp, covers on.",
        inputs=tuple(sign.input for sign in GROUNDING_SIGNS),
        judge=sees(GROUNDING, GROUNDING_SIGNS, "A grounding electrode is connected"),
        kinds=WORK,
        no_limit_because="a clamp in the ground is seen, not measured",
    ),
    Check(
        id="service.surge",
        title="Surge protection",
        how="Look for a surge-protective device at the service, or at each panel fed from it.",
        inputs=(
            Choice(
                "device",
                "Where it is",
                options=(
                    Option("service", "At the service"),
                    Option("panels", "At every next panel"),
                    Option("none", "None"),
                ),
            ),
            YesNo("is_replaced", "Service new or replaced", when=When("device", ("none",))),
        ),
        judge=_judge_surge,
        kinds=WORK,
        applies=_dwelling_only,
        no_limit_because="a device is there or not, and its size is the maker's",
    ),
    Check(
        id="service.metering",
        title="The meter behind it",
        how="Follow the feeder from the panel to its meter, and read whose it is.",
        inputs=(
            Choice(
                "meter",
                "Fed from",
                options=(
                    Option("user", "Meter of who uses it"),
                    Option("common", "Meter of common areas"),
                    Option("dwelling", "One dwelling's, for several"),
                ),
            ),
        ),
        judge=_judge_meter,
        kinds=WORK,
        applies=_shared_only,
        no_limit_because="whose meter it is, is read and not measured",
    ),
    Check(
        id="service.transformer",
        title="Room on the transformer",
        quantity="Load",
        how="Read the customer's transformer from its nameplate, doors closed; take the highest "
        "other load from its metering.",
        inputs=(
            YesNo("is_present", "Customer's own transformer"),
            Rating(
                "rated",
                "Nameplate",
                dimension=Dimension.APPARENT_POWER,
                units=KVA,
                plausible=(5e3, 1e6),
                when=OWNED,
            ),
            Rating(
                "other",
                "Highest other load",
                dimension=Dimension.APPARENT_POWER,
                units=KVA,
                plausible=(0.0, 1e6),
                when=OWNED,
                help="Without the chargers",
            ),
        ),
        judge=_judge_transformer,
        kinds=WORK,
        applies=_no_dwelling,
    ),
)
