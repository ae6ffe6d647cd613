"""The heat that hides in a joint, judged against the heat that burns one."""

from collections.abc import Iterator
from typing import Final

from checks.check import Situation, compare, tracked, unsettled
from checks.electrical.assumed_ohms import METAL, SUPPLY_OHM
from checks.electrical.joint import JOINT, JOINT_W, Joint, heat_in_words
from checks.electrical.load_line import Circuit
from checks.quantity import COVERAGE, expanded, nominal
from checks.stations.outlet.hidden import mohm, notes, watts, working
from checks.verdict import Force, Judgement, Limit, Severity, Tracked, Verdict, at_most, decide

HEAT: Final = "heat in one joint"
ALIKE_RATIO: Final = 0.1  # a test this near to full current is told once
JOINT_WHY: Final = "A joint with that much heat loosens, oxidizes and burns, and no breaker sees it"
SETTLE: Final = "Settle it before the charger is used at full current"
SETTLING: Final = 3  # readings that are named as settling it; the working names all


def heat_limit() -> Limit:
    """Return the heat in one place that no joint lasts under."""
    return at_most(JOINT_W, "W", Force.TRADE_JUDGEMENT, JOINT, of=HEAT)


def heat_part(found: Joint, full_a: float) -> Judgement | None:
    """Judge a hidden joint where the readings show one, speak for one or rule one out."""
    if not found.is_plausible:
        return unsettled(
            f"The run has {mohm(found.branch_ohm)}, less than its metal as recorded with "
            f"{mohm(found.metal_ohm)}: length, size or a reading is not right",
            "Read size and length again, and repeat the test",
            severity=Severity.NOTICE,
            sources=(METAL,),
        )
    heat_w, limit = found.full_heat_w(full_a), heat_limit()
    if not found.is_sure and decide(heat_w, (limit,)) is not Verdict.WITHIN:
        return _likely(found, full_a)
    judged = compare(
        heat_w,
        "W",
        (limit,),
        explanation=". ".join((_said(found, full_a), *notes(found.line))),
        why=f"A connection {_place(found)} turns about as much power to heat as "
        f"{heat_in_words(nominal(heat_w))}: it loosens, oxidizes and burns, and no breaker sees it",
        remedy="End the charge, switch off and lock; make it dead and measure milliohms across "
        "every joint from breaker to outlet"
        + (f", those of {_conductor(found)} first" if found.leg else ""),
        severity=Severity.DANGER,
        settles=_settling(found, full_a),
        of=HEAT,
    )
    is_assumed = found.line.supply is None and not found.leg  # a weak supply is weak on both legs
    is_outside = judged.verdict is Verdict.OUTSIDE
    return _by_assumption(judged, found, full_a) if is_assumed and is_outside else judged


def _by_assumption(judged: Judgement, found: Joint, full_a: float) -> Judgement:
    """Return what holds only where the supply is no weaker than it is taken to be.

    A long service drop from a small transformer has more, and no bad joint: the volts at the panel
    tell the two apart.
    """
    most_mohm = 1000 * SUPPLY_OHM[1]
    return judged.model_copy(
        update={
            "verdict": Verdict.BORDERLINE,
            "severity": Severity.WARNING,
            "explanation": f"{judged.explanation}. That holds if the supply up to the panel has no "
            f"more than {most_mohm:g} mΩ; a small transformer far away has more",
            "remedy": "End the charge; read the volts at the panel too, without and with load, or "
            f"do not charge here before it was done. {judged.remedy}",
            "settles": _settling(found, full_a),
        }
    )


def _likely(found: Joint, full_a: float) -> Judgement | None:
    """Return what the readings speak for and do not show; nothing where they hardly do."""
    heat_w = found.full_heat_w(full_a)
    if nominal(heat_w) < max(JOINT_W, expanded(heat_w) / COVERAGE):
        return None
    judged = compare(
        heat_w,
        "W",
        (heat_limit(),),
        explanation=f"The readings speak for a joint {_between(found)} and do not show it: "
        f"{watts(heat_w)} of heat at {full_a:g} A, if it is one joint",
        why=JOINT_WHY,
        remedy=SETTLE,
        severity=Severity.NOTICE,
        of=HEAT,
    )
    # a joint is called so only where it is surer than an interval is
    update = {"verdict": Verdict.BORDERLINE, "settles": _settling(found, full_a)}
    return judged.model_copy(update=update)


def with_grounds(judged: Judgement, s: Situation, found: Joint, full_a: float) -> Judgement:
    """Return a judgement with how the hidden resistance was found, and with what is followed."""
    return judged.model_copy(
        update={
            "working": (*judged.working, *working(s, found, full_a)),
            "tracked": (*judged.tracked, _tracked(found, full_a)),
        }
    )


def not_ruled_out(found: Joint | None, full_a: float) -> str:
    """Return what the readings cannot show beside a drop that is within, and what shows it."""
    if found is None or not found.is_plausible:
        return ""
    return ". ".join((": within", *_not_shown(found, full_a), *notes(found.line)))


def _not_shown(found: Joint, full_a: float) -> Iterator[str]:
    most_w = found.most_heat_w(full_a)
    if most_w <= JOINT_W:
        yield f"The volts leave room for {most_w:.0f} W in one joint, less than burns it"
        return
    less = f"{most_w:.0f} W"
    if found.line.supply is None:
        yield f"Without volts at the panel one bad joint of less than {less} of heat does not show"
    else:
        yield f"The volts are too coarse to show one bad joint of less than {less} of heat"
    yield "Temperatures under load settle that: at the breaker, outlet and connector"


def _said(found: Joint, full_a: float) -> str:
    if not found.is_sure:
        return f"The readings leave room for {found.most_heat_w(full_a):.1f} W in a joint"
    test_a, heat = nominal(found.line.current_a), ""
    if abs(test_a - full_a) > ALIKE_RATIO * full_a:
        heat = f"{watts(found.test_heat_w())} of heat at {test_a:.1f} A, "
    return (
        f"{mohm(found.hidden_ohm)} {_between(found)} are explained neither by the metal nor by "
        f"sound joints{_leg(found)}: {heat}{watts(found.full_heat_w(full_a))} of heat at "
        f"{full_a:g} A, if it is one joint"
    )


def _between(found: Joint) -> str:
    return "on the way to the outlet" if found.line.supply is None else "between panel and outlet"


def _place(found: Joint) -> str:
    """Return where the joint is, as an owner would say it."""
    where = {"": "", "line": "in the line ", "neutral": "in the neutral "}
    return where.get(found.leg, f"in one leg, {found.leg}, ") + _between(found)


def _conductor(found: Joint) -> str:
    return f"the {found.leg}" if found.line.circuit is Circuit.SINGLE else found.leg


def _leg(found: Joint) -> str:
    if found.leg:
        return f", more of it on {_conductor(found)}"
    return "" if found.legs_ohm is None else ", on which conductor the readings do not show"


def _settling(found: Joint, full_a: float) -> str:
    words = "; ".join(found.next_readings(full_a)[:SETTLING])
    return words[:1].upper() + words[1:]


def _tracked(found: Joint, full_a: float) -> Tracked:
    most_ohm = nominal(found.sound_ohm) + JOINT_W / full_a**2
    of = "not explained by the metal"
    line = f"sound joints and {JOINT_W:g} W at {full_a:g} A"
    limit = at_most(most_ohm, "mΩ", Force.TRADE_JUDGEMENT, JOINT, of=of, working=(line,))
    return tracked(found.excess_ohm, "mΩ", (limit,), of=of)
