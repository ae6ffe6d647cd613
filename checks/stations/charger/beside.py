"""The charger beside others and outside lines: shared current, network, power back to the site."""

from typing import Final

from checks.check import (
    EVERY,
    Check,
    CircuitState,
    Measurement,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
)
from checks.codes.circuit import largest_charger_a
from checks.quantity import expanded, nominal
from checks.source import trade
from checks.stations.circuit_facts import SIGNAL, breaker_a, charger_load_a, signal_tolerance_a
from checks.stations.group import why_alone
from checks.stations.observing import Sign, rule_source, signs_of
from checks.stations.outlet.where import fixed_only
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_least, at_most

CHECK: Final = "charger.together"
AS_SET: Final = "as set"
OVERLOADS: Final = "The current lasts for hours on a circuit that is sized for its setting"
SET_LOWER: Final = "End the charge, and have the setting corrected before it is used"


def _own_limits(s: Situation) -> tuple[Limit, ...]:
    """Return the most that this charger may draw: its setting, with the signal's tolerance."""
    set_a = charger_load_a(s)
    if set_a is None:
        return ()
    most_a = set_a + signal_tolerance_a(set_a)
    line = f"{set_a:g} A as set, + {SIGNAL}"
    return (at_most(most_a, "A", Force.TRADE_JUDGEMENT, SIGNAL, of=AS_SET, working=(line,)),)


def _within_setting(amps: Number, words: str, limits: tuple[Limit, ...]) -> Judgement:
    return compare(
        amps,
        "A",
        limits,
        explanation=f"{nominal(amps):.1f} A {words}",
        why=OVERLOADS,
        remedy=SET_LOWER,
        severity=Severity.WARNING,
        of=words,
    )


def _restored(with_all_a: Number, alone_a: Number) -> Judgement:
    """Judge whether it gets back what it gave up to the others."""
    room_a = signal_tolerance_a(nominal(with_all_a))
    limit = at_least(-room_a, "A", Force.TRADE_JUDGEMENT, SIGNAL, of="alone less with all")
    return compare(
        alone_a - with_all_a,
        "A",
        (limit,),
        explanation=f"{nominal(alone_a):.1f} A alone, {nominal(with_all_a):.1f} A with the others",
        why="A charger that does not get its share back leaves its vehicle uncharged",
        remedy="Look at the vehicle's own limit, then at the load management's setting",
        severity=Severity.NOTICE,
        of="alone less with all",
    )


def _judge_together(s: Situation) -> Judgement:
    limits = _own_limits(s)
    with_all_a, alone_a = s.measured(f"{CHECK}.with_all"), s.measured(f"{CHECK}.alone")
    if with_all_a is None or alone_a is None or not limits:
        missing = "Its setting" if not limits else "Its current, with all and alone,"
        return not_measured(f"{missing} is missing", limits)
    if nominal(alone_a) <= expanded(alone_a):
        return not_measured("Alone it shows no current: read it while it charges", limits)
    parts = [
        _within_setting(with_all_a, "with all charging", limits),
        _within_setting(alone_a, "alone", limits),
        _restored(with_all_a, alone_a),
    ]
    is_held = s.yes(f"{CHECK}.is_held")
    if is_held is None:
        parts.append(not_measured("Whether load management holds it is missing"))
    if is_held and s.rating(f"{CHECK}.fallback") is None:
        parts.append(not_measured("The current it falls back to is missing"))
    good = (
        f"{nominal(with_all_a):.1f} A with all charging, {nominal(alone_a):.1f} A alone, both "
        "within its setting"
    )
    return together(parts, good=good)


def _reads(name: str, label: str) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.CURRENT,
        units=("A",),
        plausible=(0.0, 80.0),
        access_point="the charger's own display, or its commissioning software",
        against=(AS_SET,),
    )


NETWORKED: Final = When("is_networked", ("yes",))
ACCOUNT: Final = trade("who pays and who answers a fault must hold the account and the clock")
NETWORK_SIGNS: Final = (
    Sign(
        YesNo("is_clock_right", "Clock and zone right", good=True, when=NETWORKED),
        ACCOUNT,
        "The charger's clock or time zone is wrong",
        "Schedules start at the wrong hour, and its log misleads who looks for a fault",
        "Have clock and time zone set",
        Severity.NOTICE,
    ),
    Sign(
        YesNo("is_owners_account", "Account is the owner's", good=True, when=NETWORKED),
        ACCOUNT,
        "The account is not in the owner's hands",
        "Nobody else can change a setting or see a fault once the installer is gone",
        "Hand the account over to the owner, and change the installer's password",
        Severity.NOTICE,
    ),
)


def _judge_network(s: Situation) -> Judgement:
    check = "charger.network"
    limits = _offline_limits(s)
    networked = s.yes(f"{check}.is_networked")
    if networked is None:
        return not_measured("Whether it is on a network is missing", limits)
    if not networked:
        return seen(True, explanation="It works without a network", source=ACCOUNT)
    offline_a = s.rating(f"{check}.offline_a")
    parts = list(signs_of(s, check, NETWORK_SIGNS))
    if offline_a is None or not limits:
        missing = "The breaker's rating" if not limits else "What it offers while offline"
        parts.append(not_measured(f"{missing} is missing", limits))
    else:
        parts.append(_within_setting(offline_a, "while offline", limits))
    return together(parts, good=f"On the network, and {offline_a or 0:g} A while offline")


def _offline_limits(s: Situation) -> tuple[Limit, ...]:
    amps = breaker_a(s)
    if amps is None:
        return ()
    return (largest_charger_a(s.code, amps).at_most("A", of="by the breaker"),)


EXPORTS: Final = When("is_exporting", ("yes",))
EXPORT_SIGNS: Final = (
    Sign(
        YesNo("is_export_marked", "Marked for export", good=True, when=EXPORTS),
        "listed charger",
        "It gives power back without being marked for it",
        "Nobody who works on the circuit expects it to be live from the vehicle's side",
        "Keep export off until a unit is installed that is listed and marked for it",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_approved", "Utility's approval seen", good=True, when=EXPORTS),
        "listed use",
        "The utility has not approved the interconnection",
        "Power that flows into a line thought dead kills who works on it",
        "Keep export off until the utility and the authority having jurisdiction have approved it",
        Severity.WARNING,
    ),
    Sign(
        YesNo("is_isolated", "Cannot feed a dead supply", good=True, when=EXPORTS),
        "listed use",
        "Nothing keeps it from feeding the supply when that is dead",
        "Power that flows into a line thought dead kills who works on it",
        "Keep export off until transfer equipment or listed anti-islanding is in place",
        Severity.DANGER,
    ),
)


def _judge_export(s: Situation) -> Judgement:
    exporting = s.yes("charger.export.is_exporting")
    source = rule_source(s, "listed charger")
    if exporting is None:
        return not_measured("Whether it can give power back is missing", sources=(source,))
    if not exporting:
        return seen(True, explanation="It cannot give power back", source=source)
    parts = list(signs_of(s, "charger.export", EXPORT_SIGNS))
    if not s.yes("service.other_sources.is_present"):
        parts.append(
            not_measured("It is a source too: record it at the service, under other sources")
        )
    return together(parts, good="Marked, approved and kept off a dead supply")


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id=CHECK,
        title="With the others charging",
        quantity="With others",
        how="With every charging point here charging, read its current; then once more with this "
        "one alone. Read in its software what it falls back to when it loses its signal.",
        inputs=(
            YesNo("is_held", "Held by load management"),
            _reads("with_all", "With all charging"),
            _reads("alone", "Alone"),
            Rating(
                "fallback",
                "Falls back to",
                plausible=(0.0, 80.0),
                when=When("is_held", ("yes",)),
                help="Without its signal; 0 A where it stops",
            ),
        ),
        judge=_judge_together,
        state=CircuitState.UNDER_LOAD,
        loads_all=True,
        applies=why_alone,
    ),
    Check(
        id="charger.network",
        title="Network",
        quantity="Off line",
        how="Read in its software clock, time zone, account holder, and the current it offers "
        "while it is offline.",
        inputs=(
            YesNo("is_networked", "On a network"),
            *(sign.input for sign in NETWORK_SIGNS),
            Rating(
                "offline_a",
                "Offered while offline",
                plausible=(0.0, 80.0),
                when=NETWORKED,
                against=EVERY,
            ),
        ),
        judge=_judge_network,
        state=CircuitState.ENERGISED,
        applies=fixed_only,
    ),
    Check(
        id="charger.export",
        title="Power back to the site",
        how="Read on plate and instructions whether it can give the vehicle's power back.",
        inputs=(
            YesNo("is_exporting", "Can give power back"),
            *(sign.input for sign in EXPORT_SIGNS),
        ),
        judge=_judge_export,
        applies=fixed_only,
    ),
)
