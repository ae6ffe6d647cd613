"""Insulation of the run: conductors off the breaker, or from the outlet with the panel closed."""

from typing import Final

from checks.check import (
    Check,
    Choice,
    CircuitState,
    Option,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    replacements,
    together,
    unsettled,
)
from checks.electrical.ground_fault import MUST_TRIP_MA
from checks.electrical.insulation import least_ohm
from checks.quantity import amount, nominal
from checks.source import judgement, trade
from checks.stations.circuit_facts import has_line_2, least_to_ground_v
from checks.stations.fitted import owed
from checks.stations.observing import BESIDE_BUS, INSIDE
from checks.stations.outlet.where import is_receptacle, kind
from checks.stations.run.insulated import TESTER_CAUTION, lowest_ohms, megohms
from checks.units import Number
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, decide

# where it is made: input, what is between
PAIRS: Final = {
    "panel": (
        ("line_ground", "line 1 to ground"),
        ("second_ground", "line 2 or neutral to ground"),
        ("between", "line 1 to line 2 or neutral"),
    ),
    "outlet": (
        ("line_ground", "line 1 to ground"),
        ("line2_ground", "line 2 to ground"),
        ("between", "line 1 to line 2 or neutral"),
    ),
}
DEVICE: Final = "outlet.ground_fault"  # told first: no test voltage goes through its electronics
FULL_TEST: Final = "500"
WEAK: Final = "Weak insulation leaks, trips, shocks and in the end shorts"
MEND: Final = (
    "Keep the circuit dead and locked; find the wet or damaged stretch and replace it, then test "
    "again"
)
MEND_AT_RECEPTACLE: Final = (
    "Keep the circuit dead and locked; take the receptacle off and read again: what stays low is "
    "the run's, to be found and replaced; what is sound then leaked at the outlet"
)
IN_DOUBT: Final = (  # it keeps no circuit dead
    "Dead and locked, take off what is still connected and read again; test it at the next visit "
    "too"
)
NO_SHORT: Final = judgement(
    "what would draw the 6 mA that a Class A device must trip at is a fault"
)
BONDED: Final = trade("the neutral stays bonded to ground while it is on its bar")


def least_insulation(s: Situation) -> Limit:
    """Return what the insulation must have at the voltage it was tested with."""
    test_v = float(s.choice("run.insulation.test_v") or FULL_TEST)  # asked for before it judges
    least, source = least_ohm(test_v)
    return at_least(
        least, "MΩ", Force.RECOMMENDATION, source, of="insulation", working=(f"at {test_v:g} V DC",)
    )


def judge_insulation(s: Situation) -> Judgement:
    """Judge the insulation of every pair, with what is at the outlet still on its conductors."""
    place = s.choice("run.insulation.place")
    if place == "electronic":
        return _judge_short(s)
    limit = least_insulation(s)
    if place is None:
        return not_measured("Say where it is tested: at the panel or at the outlet", (limit,))
    if s.yes("run.insulation.is_disconnected") is False:
        return not_measured("Disconnect charger and electronics first, then test", (limit,))
    device = s.choice(f"{DEVICE}.device")
    if place == "outlet" and device == "breaker" and not _is_of_old_breaker(s):
        words = "The breaker has ground-fault electronics: no test voltage through them"
        return not_measured(f"{words}; take its conductors off, panel dead", (limit,))
    missing = _missing(s, place)
    if missing:
        return not_measured(f"Still open: {', '.join(missing)}", (limit,))
    judged = together((*_tested(s, place), *_neutral_untold(s, place)))
    is_untold = place == "outlet" and device is None
    if is_untold and judged.verdict is not Verdict.OUTSIDE:
        return not_measured("Look first whether the breaker has ground-fault electronics", (limit,))
    return judged


def _missing(s: Situation, place: str) -> list[str]:
    pairs = _pairs(s, place)
    missing = [between for name, between in pairs if s.measured(f"run.insulation.{name}") is None]
    if s.choice("run.insulation.test_v") is None:
        missing.insert(0, "the test voltage")
    if s.yes("run.insulation.is_disconnected") is None:
        missing.insert(0, "whether charger and electronics are disconnected")
    return missing


def _is_plain(s: Situation) -> bool:
    """Return whether the breaker is not known to have electronics."""
    return s.choice(f"{DEVICE}.device") != "breaker"


def _is_new_kind(s: Situation) -> bool:
    """Return whether a device was fitted of which nobody has told the kind."""
    return DEVICE in owed(s)


def _is_of_old_breaker(s: Situation) -> bool:
    """Return whether it was tested before the breaker that is there now was fitted."""
    tested = s.entry("run.insulation")
    fitted = (r.number for r in replacements(s.visit) if s.subject in r.subjects)
    return tested is not None and tested.number < max(fitted, default=0)


def are_lines_sound(s: Situation) -> bool:
    """Return whether every pair that was tested is sound, be the neutral still on its bar."""
    place = s.choice("run.insulation.place")
    tested = [] if place not in PAIRS else _tested(s, place)
    is_within = bool(tested) and together(tested).verdict is Verdict.WITHIN
    return is_within and judge_insulation(s).verdict in (Verdict.WITHIN, Verdict.BORDERLINE)


def _tested(s: Situation, place: str) -> list[Judgement]:
    limit, mend = least_insulation(s), MEND_AT_RECEPTACLE if is_receptacle(s) else MEND
    values = [(s.measured(f"run.insulation.{name}"), between) for name, between in _pairs(s, place)]
    known = [(value, between) for value, between in values if value is not None]
    known.sort(key=lambda pair: nominal(pair[0]))  # of parts that are alike the first is shown
    return [
        _judge_pair(
            value,
            between,
            limit,
            mend if decide(value, (limit,)) is Verdict.OUTSIDE else IN_DOUBT,
        )
        for value, between in known
    ]


def _pairs(s: Situation, place: str) -> tuple[tuple[str, str], ...]:
    """Return what is tested: from the outlet no neutral to ground, for it stays bonded."""
    has_second = place == "panel" or has_line_2(s)
    return tuple(p for p in PAIRS[place] if has_second or p[0] != "line2_ground")


def _judge_pair(value: Number, between: str, limit: Limit, remedy: str) -> Judgement:
    return compare(
        value,
        "MΩ",
        (limit,),
        explanation=f"Insulation from {between}: {amount(value, 'MΩ')}",
        why=WEAK,
        remedy=remedy,
        severity=Severity.WARNING,
    )


def _neutral_untold(s: Situation, place: str) -> tuple[Judgement, ...]:
    """Return what a test from the outlet leaves open: a neutral that stays on its bar."""
    found = kind(s)
    has_no_neutral = has_line_2(s) and (
        not is_receptacle(s) or (found is not None and not found.has_neutral)
    )
    if place == "panel" or has_no_neutral:
        return ()
    return (
        unsettled(
            "The lines are sound; neutral to ground is not testable while the neutral is bonded",
            "Test it with the conductors off their bars once the panel may be switched off",
            why="A neutral that touches ground on the way trips ground-fault protection",
            severity=Severity.NOTICE,
            sources=(BONDED,),
        ),
    )


def no_short(s: Situation) -> Limit:
    """Return the ohms that draw less than what a Class A device must trip at."""
    least = least_to_ground_v(s) / (MUST_TRIP_MA / 1e3)
    return at_least(least, "kΩ", Force.TRADE_JUDGEMENT, NO_SHORT, of="no short")


def _judge_short(s: Situation) -> Judgement:
    """Judge ohms through a breaker's electronics: a short shows, sound insulation does not."""
    limit = no_short(s)
    lowest = s.measured("run.insulation.lowest")
    is_off = s.yes("run.insulation.is_disconnected")
    if not is_off or lowest is None:
        return not_measured("Disconnect what is plugged in, then read ohms of each pair", (limit,))
    judged = compare(
        lowest,
        "kΩ",
        (limit,),
        explanation=f"The lowest of all pairs at the outlet reads {amount(lowest, 'kΩ')}",
        why=WEAK,
        remedy="Keep the circuit dead and locked; with the panel dead take the conductors off the "
        "breaker and test their insulation",
        severity=Severity.WARNING,
    )
    if judged.verdict is not Verdict.WITHIN:
        return judged
    return unsettled(
        f"{judged.explanation}: no short, but the insulation itself is not proved",
        "Test it with the conductors off the breaker once the panel may be switched off",
        why=WEAK,
        remedy="Press the test button of the breaker first when it is live: until then it is what "
        "watches the insulation",
        limits=(limit,),
        sources=(NO_SHORT,),
    )


TESTED: Final = When("place", ("panel", "outlet"))


CHECKS: Final = (
    Check(
        id="run.insulation",
        title="Insulation",
        how="Dead, locked and proved. Take the conductors off charger and, panel dead, off the "
        "breaker; disconnect everything electronic: ground-fault device, surge device, meter, all "
        "that is plugged in. Where the panel stays closed, test from the outlet behind the open "
        "breaker: lines only, the neutral stays bonded; through an electronic breaker read ohms "
        "alone. Keep people away from the far end. Test each pair, discharge, then land the "
        "conductors again; the torque of breaker and outlet is asked for after it.",
        inputs=(
            Choice(
                "place",
                "Tested from",
                options=(
                    Option("panel", "Panel dead, conductors off", needs=(INSIDE,)),
                    Option(
                        "outlet",
                        "Outlet, plain breaker off",
                        "Panel closed; a breaker without electronics",
                        where=_is_plain,
                        needs=(DEVICE,),
                        needs_where=_is_new_kind,
                    ),
                    Option(
                        "electronic",
                        "Outlet, electronic breaker",
                        "Ground-fault or arc-fault: ohms only, no test voltage through it",
                    ),
                ),
            ),
            YesNo(
                "is_disconnected",
                "Electronics disconnected",
                good=True,
                help="Charger, vehicle, ground-fault and surge devices, and all that is plugged in",
            ),
            Choice(
                "test_v",
                "Test voltage, DC",
                options=(Option("250", "250 V"), Option("500", "500 V"), Option("1000", "1000 V")),
                help="500 V for a circuit up to 500 V; 1000 V only where cable and devices are "
                "rated for it",
                when=TESTED,
            ),
            megohms("line_ground", "Line 1 to ground", when=TESTED),
            megohms("second_ground", "Line 2 or neutral to ground", when=When("place", ("panel",))),
            megohms(
                "line2_ground",
                "Line 2 to ground",
                when=When("place", ("outlet",)),
                where=has_line_2,
            ),
            megohms("between", "Line 1 to line 2 or neutral", when=TESTED),
            lowest_ohms(
                "lowest",
                "Lines to ground, neutral and each other. Over range: the highest it shows",
                When("place", ("electronic",)),
            ),
        ),
        judge=judge_insulation,
        state=CircuitState.DEAD,
        opens=True,
        gates=True,
        cautions=(
            BESIDE_BUS,
            TESTER_CAUTION,
        ),
    ),
)
