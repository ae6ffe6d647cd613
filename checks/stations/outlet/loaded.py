"""Voltage under load: drop in the run and in all, supply, and heat that hides in a joint."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    CircuitState,
    Situation,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.circuit import drop_limits, supply_band
from checks.codes.profile import Rule
from checks.electrical.drop import percent_of_nominal
from checks.electrical.joint import Joint
from checks.electrical.load_line import LoadLine
from checks.errors import OutOfTableError
from checks.quantity import expanded, nominal
from checks.source import trade
from checks.stations import adapter
from checks.stations.circuit_facts import full_current_a, nominal_v
from checks.stations.outlet.hidden import is_complete, joint, load_test
from checks.stations.outlet.joint_heat import heat_limit, heat_part, not_ruled_out, with_grounds
from checks.stations.outlet.load_inputs import INPUTS
from checks.stations.outlet.load_steps import steps
from checks.stations.outlet.no_load import reachable
from checks.stations.service_neutral import PARTED, REMEDY, WHY, moved
from checks.units import Number
from checks.verdict import (
    Force,
    Judgement,
    Limit,
    Severity,
    Verdict,
    at_least,
    at_most,
    decide,
)

LONG_RUN: Final = "Run larger conductors or a shorter way, or set the charger lower"


def _drop_limit(s: Situation, rule: Rule[float], of: str) -> Limit:
    volts = nominal_v(s) * rule.value / 100
    full_a = full_current_a(s)
    at = "full current" if full_a is None else f"{full_a:g} A"
    line = f"{rule.value:g} % of {nominal_v(s):g} V is {volts:.3g} V at {at} ({rule.source})"
    return at_most(rule.value, "%", rule.force, rule.source, of=of, working=(line,))


def _drop_limits(s: Situation) -> tuple[Limit, Limit]:
    rules = drop_limits(s.code)
    return (
        _drop_limit(s, rules.branch_pct, "drop in the run"),
        _drop_limit(s, rules.total_pct, "drop from the service"),
    )


def _drop(
    s: Situation, where: str, ohm: Number, line: LoadLine, full_a: float, limit: Limit
) -> Judgement:
    """Judge the drop that a resistance makes at full current."""
    pct, current_a = percent_of_nominal(ohm * full_a, nominal_v(s)), line.current_a
    return compare(
        pct,
        "%",
        (limit,),
        explanation=f"{where} {nominal(ohm * current_a):.1f} V are lost at "
        f"{nominal(current_a):.1f} A, {nominal(pct):.1f} % of {nominal_v(s):g} V at {full_a:g} A",
        why="Lost volts are heat along the way, and less power at the vehicle",
        remedy=LONG_RUN,
        severity=Severity.WARNING if limit.force is Force.CODE_RULE else Severity.NOTICE,
        of=limit.amount.of,
    )


def _run_part(s: Situation, line: LoadLine, full_a: float, limit: Limit) -> Judgement:
    if line.branch is not None:
        return _drop(s, "In the run", line.branch.loop_ohm, line, full_a, limit)
    judged = _drop(s, "In run and supply together", line.outlet.loop_ohm, line, full_a, limit)
    if judged.verdict is Verdict.WITHIN:
        return judged
    words = judged.explanation + "; without the volts at the panel they cannot be told apart"
    return not_measured(words, (limit,)).model_copy(update={"measured": judged.measured})


def _total_part(s: Situation, line: LoadLine, full_a: float, limit: Limit) -> Judgement:
    if line.branch is not None and s.panel.is_service_equipment:
        return _drop(s, "From the service", line.branch.loop_ohm, line, full_a, limit)
    judged = _drop(s, "From transformer to outlet", line.outlet.loop_ohm, line, full_a, limit)
    if judged.verdict is not Verdict.OUTSIDE:
        return judged
    return unsettled(
        judged.explanation + "; part of it is the utility's",
        "Read the volts at the service as well, without and with load",
        why=judged.why,
        remedy=judged.remedy,
        severity=Severity.NOTICE,
        limits=(limit,),
    )


def _supply_part(s: Situation) -> Judgement | None:
    """Return a finding where the loaded volts leave the band of utilization, else nothing."""
    loaded_v = s.measured("outlet.loaded_voltage.outlet_loaded")
    if loaded_v is None:
        return None
    try:
        rule = supply_band(s.code, s.point.nominal_v, "utilization", "B")
    except OutOfTableError:
        return None
    limit = at_least(rule.value.low_v, "V", rule.force, rule.source, of="volts under load")
    if decide(loaded_v, (limit,)) is not Verdict.OUTSIDE:
        return None
    return compare(
        loaded_v,
        "V",
        (limit,),
        explanation=f"{nominal(loaded_v):.1f} V are left at the outlet under load",
        why="The vehicle may stop charging, and every weak joint takes its share",
        remedy="Set the charger lower; find where the volts go before it is used at full current",
        severity=Severity.CAUTION,
        of="volts under load",
    )


def _judge_loaded(s: Situation) -> Judgement:
    line = load_test(s)
    found = joint(s, line)
    return _judged(s, line, found).model_copy(update={"steps": steps(s, found)})


def _judged(s: Situation, line: LoadLine | None, found: Joint | None) -> Judgement:
    limits, full_a = _drop_limits(s), full_current_a(s)
    if not is_complete(s) or full_a is None:
        return not_measured(
            "The charger's current is missing, at the charger"
            if is_complete(s)
            else "Volts without and with load, and a current above 0 A, are missing",
            (*limits, heat_limit()),
        )
    apart = moved(s)
    if apart is not None and apart.is_apart:
        judged = seen(
            False,
            explanation=apart.words,
            source=PARTED,
            why=WHY,
            remedy=REMEDY,
            severity=Severity.DANGER,
        )
        return judged.model_copy(update={"limits": limits})
    if _rises(s):
        return unsettled(
            "The outlet reads more volts with load than without: the supply moved meanwhile",
            "Read without and with load within a minute, both at the outlet and at the panel",
            limits=limits,
        )
    if line is None or nominal(line.outlet.loop_ohm) < -expanded(line.outlet.loop_ohm):
        return unsettled(
            "The volts of the load test contradict each other",
            "Read them again within a few minutes, with one meter, while the supply is quiet",
            limits=limits,
        )
    parts = [
        _run_part(s, line, full_a, limits[0]),
        _total_part(s, line, full_a, limits[1]),
        _supply_part(s),
        None if found is None else heat_part(found, full_a),
        _coupler_part(s),
    ]
    made = [part for part in parts if part is not None]
    loaded_v = s.measured("outlet.loaded_voltage.outlet_loaded")
    judged = together(
        made,
        good=made[0].explanation + not_ruled_out(found, full_a),
        telling="" if loaded_v is None else f"{nominal(loaded_v):.1f} V",
    )
    return judged if found is None else with_grounds(judged, s, found, full_a)


def _rises(s: Situation) -> bool:
    """Return whether load raises the outlet's volts, by more than the meter is uncertain."""
    no_load_v = s.measured("outlet.loaded_voltage.outlet_no_load")
    loaded_v = s.measured("outlet.loaded_voltage.outlet_loaded")
    if no_load_v is None or loaded_v is None:
        return False
    return nominal(loaded_v - no_load_v) > expanded(loaded_v - no_load_v)


def _coupler_part(s: Situation) -> Judgement | None:
    """Judge what the vehicle's current passed through, where an adapter stands between."""
    if s.choice("outlet.loaded_voltage.load") != "vehicle" or not s.point.has_adapter:
        return None
    if adapter.judge_seating(s).verdict is not Verdict.OUTSIDE:
        return None
    return seen(
        False,
        explanation="The vehicle is charged through an adapter that does not seat",
        source=trade("no current through a coupler that does not seat"),
        why="Contacts that touch on part of their length overheat, and may part under load",
        remedy="End the charge at the vehicle; use a test load on the connector",
        severity=Severity.DANGER,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.loaded_voltage",
        needs=("connector.seating",),
        title="Volts under load",
        quantity="Under load",
        how=(
            "With one meter read outlet and panel, line to line (Level 1: line to neutral), just "
            "before the charge; start it, wait until the current is steady, read current and "
            "both places again, type each as it is read. Where an adapter does not seat, load "
            "the connector with a test load, not the vehicle."
        ),
        inputs=INPUTS,
        judge=_judge_loaded,
        state=CircuitState.UNDER_LOAD,
        applies=reachable,
        cautions=(
            Caution(
                Severity.DANGER,
                "Live conductors under load: guarded points only, leads of CAT III or more; who "
                "may not open the panel leaves it closed.",
            ),
            Caution(
                Severity.WARNING,
                "On smell, discoloration or a hissing joint end the charge from a safe point, "
                "then switch off.",
            ),
        ),
        tells=True,
    ),
)
