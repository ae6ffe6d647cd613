"""Voltage under load: drop in the run and in all, supply, and heat that hides in a joint."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.circuit import drop_limits, supply_band
from checks.codes.profile import Rule
from checks.electrical.drop import percent_of_nominal, scaled_drop_v
from checks.errors import OutOfTableError
from checks.quantity import Dimension, Number, expanded, nominal
from checks.record import Category, InstrumentKind
from checks.source import trade
from checks.stations import adapter
from checks.stations.circuit_facts import full_current_a, nominal_v
from checks.stations.outlet.hidden import (
    HOT_W,
    JOINTS,
    Excess,
    LoadTest,
    excess,
    leg_words,
    load_test,
)
from checks.stations.outlet.no_load import POINTS, reachable
from checks.stations.warmth_inputs import CLAMP
from checks.verdict import (
    Force,
    Judgement,
    Limit,
    Severity,
    Verdict,
    VoltageStep,
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


def _limits(s: Situation) -> tuple[Limit, Limit]:
    rules = drop_limits(s.code)
    return (
        _drop_limit(s, rules.branch_pct, "drop in the run"),
        _drop_limit(s, rules.total_pct, "drop from the service"),
    )


def _scaled_pct(s: Situation, drop_v: Number, test: LoadTest, full_a: float) -> Number:
    return percent_of_nominal(scaled_drop_v(drop_v, test.current_a, full_a), nominal_v(s))


def _said(s: Situation, where: str, drop_v: Number, test: LoadTest, full_a: float) -> str:
    pct = nominal(_scaled_pct(s, drop_v, test, full_a))
    return (
        f"{where} {nominal(drop_v):.1f} V are lost at {nominal(test.current_a):.1f} A, "
        f"{pct:.1f} % of {nominal_v(s):g} V at {full_a:g} A"
    )


def _drop(
    s: Situation, where: str, drop_v: Number, test: LoadTest, full_a: float, limit: Limit
) -> Judgement:
    is_rule = limit.force is Force.CODE_RULE
    return compare(
        _scaled_pct(s, drop_v, test, full_a),
        "%",
        (limit,),
        explanation=_said(s, where, drop_v, test, full_a),
        why="Lost volts are heat along the way, and less power at the vehicle",
        remedy=LONG_RUN,
        severity=Severity.WARNING if is_rule else Severity.NOTICE,
        of=limit.amount.of,
    )


def _run_part(s: Situation, test: LoadTest, full_a: float, limit: Limit) -> Judgement:
    if test.branch_drop_v is not None:
        return _drop(s, "In the run", test.branch_drop_v, test, full_a, limit)
    judged = _drop(s, "In run and supply together", test.drop_v, test, full_a, limit)
    if judged.verdict is Verdict.WITHIN:
        return judged
    words = judged.explanation + "; without the volts at the panel they cannot be told apart"
    return not_measured(words, (limit,)).model_copy(update={"measured": judged.measured})


def _total_part(s: Situation, test: LoadTest, full_a: float, limit: Limit) -> Judgement:
    if test.branch_drop_v is not None and s.panel.is_service_equipment:
        return _drop(s, "From the service", test.branch_drop_v, test, full_a, limit)
    judged = _drop(s, "From transformer to outlet", test.drop_v, test, full_a, limit)
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


def _supply_part(s: Situation, test: LoadTest) -> Judgement | None:
    """Return a finding where the loaded volts leave the band of utilization, else nothing."""
    try:
        rule = supply_band(s.code, s.point.nominal_v, "utilization", "B")
    except OutOfTableError:
        return None
    limit = at_least(rule.value.low_v, "V", rule.force, rule.source, of="volts under load")
    if decide(test.loaded_v, (limit,)) is not Verdict.OUTSIDE:
        return None
    return compare(
        test.loaded_v,
        "V",
        (limit,),
        explanation=f"{nominal(test.loaded_v):.1f} V are left at the outlet under load",
        why="The vehicle may stop charging, and every weak joint takes its share",
        remedy="Set the charger lower; find where the volts go before it is used at full current",
        severity=Severity.CAUTION,
        of="volts under load",
    )


def _excess_part(s: Situation, found: Excess, full_a: float) -> Judgement | None:
    """Return a finding where resistance is surely there that the metal does not explain."""
    if not found.is_plausible:
        return unsettled(
            f"The run has {1000 * nominal(found.found_ohm):.0f} mΩ, less than the metal as "
            "recorded: length, size or a reading is not right",
            "Read size and length again, and repeat the test",
            severity=Severity.NOTICE,
        )
    left_ohm = found.excess_ohm
    is_sure = nominal(left_ohm) > expanded(left_ohm)
    if not is_sure or nominal(left_ohm) <= found.allowed_ohm:
        return None
    limit = at_most(
        found.allowed_ohm, "mΩ", Force.TRADE_JUDGEMENT, JOINTS, of="not explained by the metal"
    )
    watts = found.heat_w(full_a)
    return compare(
        left_ohm,
        "mΩ",
        (limit,),
        explanation=f"{1000 * nominal(left_ohm):.0f} mΩ between panel and outlet are not explained "
        f"by the metal of the run: {watts:.0f} W of heat at {full_a:g} A" + leg_words(s),
        why="A joint that makes this heat loosens, oxidizes and burns; no breaker sees it",
        remedy="End the charge, switch off and lock; make it dead and check every joint from "
        "breaker to outlet",
        severity=Severity.DANGER if watts >= HOT_W else Severity.WARNING,
        settles="Repeat with one meter at full current, or measure millivolts across each joint",
        of="not explained by the metal",
    )


def _seen_words(found: Excess | None, full_a: float) -> str:
    if found is None or not found.is_plausible:
        return ""
    return f"; hidden joints: up to {max(0.0, found.most_heat_w(full_a)):.0f} W not ruled out"


def _judge_loaded(s: Situation) -> Judgement:
    limits, test, full_a = _limits(s), load_test(s), full_current_a(s)
    if test is None or full_a is None:
        missing = (
            "Volts without and with load, and a current above 0 A, are missing"
            if test is None
            else "The charger's current is missing, at the charger"
        )
        return not_measured(missing, limits).model_copy(update={"steps": _steps(s, test)})
    if nominal(test.drop_v) < -expanded(test.drop_v):
        return unsettled(
            "The outlet reads more volts with load than without: the supply moved meanwhile",
            "Read without and with load within a minute, both at the outlet and at the panel",
            limits=limits,
        ).model_copy(update={"steps": _steps(s, test)})
    found = excess(s)
    parts = [
        _run_part(s, test, full_a, limits[0]),
        _total_part(s, test, full_a, limits[1]),
        _supply_part(s, test),
        None if found is None else _excess_part(s, found, full_a),
        _coupler_part(s),
    ]
    made = [part for part in parts if part is not None]
    judged = together(
        made,
        good=made[0].explanation + _seen_words(found, full_a),
        telling=f"{nominal(test.loaded_v):.1f} V",
    )
    working = judged.working if found is None else (*judged.working, *found.working)
    return judged.model_copy(update={"working": working, "steps": _steps(s, test)})


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


def _steps(s: Situation, test: LoadTest | None) -> tuple[VoltageStep, ...]:
    if test is None:
        return ()
    outlet = VoltageStep(
        label="Outlet", no_load_v=_one(test.no_load_v), loaded_v=_one(test.loaded_v)
    )
    if test.panel_no_load_v is None and test.panel_loaded_v is None:
        return (outlet,)
    panel = VoltageStep(
        label=s.panel.name,
        no_load_v=_one(test.panel_no_load_v),
        loaded_v=_one(test.panel_loaded_v),
    )
    return panel, outlet


def _one(volts: Number | None) -> str:
    return "" if volts is None else f"{nominal(volts):.1f}"


# An outlet that carries no current shows the volts of the bus without anything being opened.
AT_PANEL: Final = (
    "guarded test points at the panel, or an unloaded outlet of this panel on the same lines"
)


def _volts(name: str, label: str, where: str, *, optional: bool = False) -> Measurement:
    return Measurement(
        name,
        label,
        plausible=(90.0, 270.0),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_III,
        access_point=where,
        optional=optional,
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.loaded_voltage",
        needs=("connector.seating",),
        title="Volts under load",
        how=(
            "With one meter read outlet and panel, line to line (Level 1: line to neutral), just "
            "before the charge; start it, wait until the current is steady, read current and "
            "both places again. Legs to neutral or ground tell on which one a joint hides. Where "
            "an adapter does not seat, load the connector with a test load, not the vehicle."
        ),
        inputs=(
            Choice(
                "load",
                "What draws the current",
                options=(Option("vehicle", "The vehicle"), Option("test load", "A test load")),
            ),
            _volts("outlet_no_load", "Outlet, no load", POINTS),
            Measurement(
                "current",
                "Current",
                dimension=Dimension.CURRENT,
                units=("A",),
                plausible=(4.0, 100.0),
                instruments=(InstrumentKind.CLAMP,),
                category=Category.CAT_III,
                access_point=CLAMP,
            ),
            _volts("outlet_loaded", "Outlet, loaded", POINTS),
            _volts("panel_no_load", "Panel, no load", AT_PANEL, optional=True),
            _volts("panel_loaded", "Panel, loaded", AT_PANEL, optional=True),
            _volts("l1_no_load", "Outlet L1, no load", POINTS, optional=True),
            _volts("l1_loaded", "Outlet L1, loaded", POINTS, optional=True),
            _volts("l2_no_load", "Outlet L2, no load", POINTS, optional=True),
            _volts("l2_loaded", "Outlet L2, loaded", POINTS, optional=True),
        ),
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
