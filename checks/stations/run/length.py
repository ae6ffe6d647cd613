"""The length of the run, and the drop that its metal alone explains at full current."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    Measurement,
    Option,
    Rating,
    Situation,
    When,
    compare,
    not_measured,
)
from checks.codes.circuit import (
    RunResistance,
    design_ohm_per_m,
    design_resistance_ohm,
    drop_limits,
)
from checks.electrical.drop import drop_v, percent_of_nominal, smallest_size
from checks.errors import OutOfTableError
from checks.quantity import expanded, nominal, rounded_down
from checks.record import InstrumentKind
from checks.source import Source
from checks.stations.circuit_facts import (
    LENGTH,
    LENGTH_RATIO,
    charger_load_a,
    conductor,
    full_current,
    is_length_zero,
    nominal_v,
    run_length_m,
)
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_most


def _limit(s: Situation) -> Limit:
    rule = drop_limits(s.code).branch_pct
    volts = rule.value * nominal_v(s) / 100
    return at_most(
        rule.value,
        "%",
        rule.force,
        rule.source,
        of="drop in the branch circuit",
        working=(f"{rule.value:g} % of {nominal_v(s):g} V = {volts:.4g} V",),
    )


def _per_meter(s: Situation) -> RunResistance | str:
    """Return the resistance of one meter of conductor, or the words for what is missing."""
    what = conductor(s)
    if what is None:
        return "Record the conductor's size and metal first"
    try:
        return design_resistance_ohm(s.code, *what, 1.0)
    except OutOfTableError as error:
        return f"{error.problem}. {error.remedy}"


def _judge(s: Situation) -> Judgement:
    limit, full, per_meter = _limit(s), full_current(s), _per_meter(s)
    if isinstance(per_meter, str):
        return not_measured(per_meter, (limit,))
    if full is None:
        return not_measured("Record the charger's current or the breaker first", (limit,))
    current_a = full.value
    pct_per_m = percent_of_nominal(drop_v(current_a, per_meter.resistance_ohm), nominal_v(s))
    length_m = run_length_m(s)
    if is_length_zero(s):
        return not_measured("No run is 0 m long: measure it again, breaker to outlet", (limit,))
    if length_m is None:
        most_m = rounded_down(limit.value / nominal(pct_per_m))
        return not_measured(
            f"Up to {most_m:g} m one way keep the drop at {current_a:g} A within the limit",
            (limit,),
        )
    pct = pct_per_m * length_m
    volts = nominal(pct) * nominal_v(s) / 100
    what = " ".join(conductor(s) or ())
    taken = "" if charger_load_a(s) else ", the most its breaker may carry continuously,"
    return compare(
        pct,
        "%",
        (limit,),
        explanation=f"At {current_a:g} A{taken} {nominal(length_m):.4g} m of {what} drop "
        f"{volts:.2f} V by themselves, {nominal(pct):.2f} % of {nominal_v(s):g} V",
        why="Volts lost along the way become heat in the run, and the vehicle charges slower",
        remedy=_remedy(s, limit, current_a, length_m),
        severity=Severity.WARNING if limit.force is Force.CODE_RULE else Severity.NOTICE,
        settles="Measure the length along the run with a tape or by the marks on the jacket",
        telling=f"{nominal(pct):.1f} % drop",
        sources=(per_meter.source, *full.sources, *_length_sources(s)),
        working=(
            *full.working,
            f"one conductor at 75 °C: {1000 * per_meter.resistance_ohm:.4g} mΩ/m "
            f"({per_meter.source})",
            f"2 × {current_a:g} A × {1000 * per_meter.resistance_ohm:.4g} mΩ/m × "
            f"{nominal(length_m):.4g} m = {volts:.3g} V",
        ),
    )


def _remedy(s: Situation, limit: Limit, current_a: float, length_m: Number) -> str:
    """Name the size that keeps the drop within the limit, as long as the run may be at most."""
    _, material = conductor(s) or ("", "")
    most_v = limit.value * nominal_v(s) / 100
    most_m = nominal(length_m) + expanded(length_m)
    try:
        needed = smallest_size(most_v, current_a, most_m, design_ohm_per_m(s.code, material))
    except OutOfTableError:  # no size does: only less current helps
        return (
            "Plan a lower charging current; a drop that is measured higher than this points to a "
            "joint, not to length"
        )
    return (
        f"Plan {needed} {material} or larger where the terminals take it, or a lower charging "
        "current; a drop that is measured higher than this points to a joint, not to length"
    )


def _length_sources(s: Situation) -> tuple[Source, ...]:
    return (LENGTH,) if s.choice("run.length.basis") in LENGTH_RATIO else ()


CHECKS: Final = (
    Check(
        id="run.length",
        title="Run length",
        quantity="Drop",
        how="Say how the length is known. Best is a tape along cable or raceway from breaker to "
        "outlet, one way; marks printed on the jacket, a plan or an estimate serve, with less "
        "certainty.",
        inputs=(
            Choice(
                "basis",
                "How it is known",
                options=(
                    Option("measured", "Measured along the run"),
                    Option("jacket marks", "Marks on the jacket"),
                    Option("plan", "Read from a plan"),
                    Option("estimated", "Estimated"),
                ),
            ),
            Measurement(
                "length",
                "Length, one way",
                dimension=Dimension.LENGTH,
                units=("m", "ft"),
                plausible=(0.5, 150.0),
                instruments=(InstrumentKind.TAPE,),
                access_point="along the run, breaker to outlet",
                when=When("basis", ("measured",)),
            ),
            Rating(
                "stated",
                "Length, one way",
                dimension=Dimension.LENGTH,
                units=("m", "ft"),
                plausible=(0.5, 150.0),
                when=When("basis", tuple(LENGTH_RATIO)),
                help="With every rise and detour from breaker to outlet",
            ),
        ),
        judge=_judge,
        tells=True,
    ),
)
