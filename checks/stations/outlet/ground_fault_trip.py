"""The trip test of the ground-fault device: does it trip, at which current, how fast."""

from typing import Final

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    tracked,
)
from checks.electrical.ground_fault import (
    CLASS_A,
    CURVE_EXPONENT,
    CURVE_MA,
    HIGHEST_MA,
    MUST_TRIP_MA,
    NO_TRIP_MA,
    trip_time_limit_s,
)
from checks.quantity import nominal
from checks.record import Category, InstrumentKind
from checks.source import trade
from checks.stations.outlet.ground_fault import PEOPLE
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, Tracked, at_least, at_most


def has_device(s: Situation) -> str:
    """Return why there is nothing to trip; empty when there is, or while it is not known."""
    if s.choice("outlet.ground_fault.device") == "none":
        return "no ground-fault device is on this circuit"
    return ""


def _trip_limits() -> tuple[Limit, ...]:
    return (
        at_least(NO_TRIP_MA / 1000, "mA", Force.LISTING, CLASS_A, of="trip current"),
        at_most(MUST_TRIP_MA / 1000, "mA", Force.LISTING, CLASS_A, of="trip current"),
    )


SHARE: Final = "trip time, of the longest allowed"
OUT_OF_USE: Final = "Take the outlet out of use and have the device replaced"


RAMPED: Final = ("current", "both")
TIMED: Final = ("time", "both")


def _operates(s: Situation) -> list[Judgement]:
    button = s.yes("outlet.ground_fault_trip.is_tripped_by_button")
    restores = s.yes("outlet.ground_fault_trip.is_restored")
    if button is None:
        return [not_measured("Trip it by its own test button", _trip_limits())]
    parts = [
        seen(
            button,
            explanation="Its own button trips it" if button else "Its own button does not trip it",
            source=trade("the monthly test by the device's own button, as its label says"),
            why=PEOPLE,
            remedy=OUT_OF_USE,
        )
    ]
    if button and restores is None:
        parts.append(not_measured("Whether it restores after the test is missing"))
    elif button:
        parts.append(
            seen(
                bool(restores),
                explanation="It restores after its own test"
                if restores
                else "It does not restore after its own test",
                source=trade("a device at the end of its life does not reset"),
                why="Either the device has failed or a fault is still there",
                remedy="Leave it tripped; find the fault, or have the device replaced",
            )
        )
    return parts


def _trip_current(current_a: Number) -> Judgement:
    is_late = nominal(current_a) * 1000 > MUST_TRIP_MA
    return compare(
        current_a,
        "mA",
        _trip_limits(),
        explanation=f"It trips at {nominal(current_a) * 1000:.3g} mA; Class A trips between "
        f"{NO_TRIP_MA:g} mA and {MUST_TRIP_MA:g} mA",
        why=PEOPLE if is_late else "A device that trips too early is soon bypassed by its owner",
        remedy=OUT_OF_USE,
        severity=Severity.WARNING if is_late else Severity.CAUTION,
        of="trip current",
    )


def _trip_time(s: Situation) -> Judgement:
    """Judge the time by the longest that the tester's own current allows, known before it."""
    time_s = s.measured("outlet.ground_fault_trip.trip_time")
    test_a = s.measured("outlet.ground_fault_trip.test_current")
    if test_a is None:
        return not_measured(
            "The tester's actual current is missing: the time limit depends on it", _trip_limits()
        )
    test_ma = nominal(test_a) * 1000
    if not MUST_TRIP_MA <= test_ma <= HIGHEST_MA:
        return not_measured(
            f"{test_ma:.3g} mA is no valid test: a time limit holds from {MUST_TRIP_MA:g} mA "
            f"to {HIGHEST_MA:g} mA"
        )
    longest_s = trip_time_limit_s(test_ma)
    limit = at_most(
        longest_s,
        "s",
        Force.LISTING,
        CLASS_A,
        of="trip time",
        working=(f"T = ({CURVE_MA:g}/{test_ma:.4g})^{CURVE_EXPONENT:g} = {longest_s:.4g} s",),
    )
    if time_s is None:
        return not_measured("The time it trips in is missing", (*_trip_limits(), limit))
    # what the tester's current leaves uncertain of the limit is carried by the time
    own = (CURVE_MA / (test_a * 1000)) ** CURVE_EXPONENT
    return compare(
        time_s - (own - nominal(own)),
        "s",
        (limit,),
        explanation=f"It trips in {nominal(time_s):.3g} s at {test_ma:.3g} mA",
        why=PEOPLE,
        remedy=OUT_OF_USE,
        severity=Severity.WARNING,
        of="trip time",
    ).model_copy(update={"tracked": (_share(time_s / own),)})


def _share(ratio: Number) -> Tracked:
    """Return the time as a share of the longest: visits compare though their currents differ."""
    longest = at_most(100.0, "%", Force.LISTING, CLASS_A, of=SHARE)
    return tracked(100 * ratio, "%", (longest,), of=SHARE)


def _by_tester(s: Situation) -> list[Judgement]:
    method = s.choice("outlet.ground_fault_trip.method")
    if method is None:
        return [not_measured("Still open: by its button alone, or with a tester", _trip_limits())]
    if method == "none":
        return [_not_tripping()]
    parts = []
    if method in RAMPED:
        current_a = s.measured("outlet.ground_fault_trip.trip_current")
        missing = not_measured("The current it trips at is missing", _trip_limits())
        parts.append(missing if current_a is None else _trip_current(current_a))
    if method in TIMED:
        parts.append(_trip_time(s))
    return parts


def _not_tripping() -> Judgement:
    return seen(
        False,
        explanation="A tester does not trip it, whatever its own button does",
        source=CLASS_A,
        why=PEOPLE,
        remedy=f"{OUT_OF_USE}; where it is in order the ground at the outlet is missing: find out "
        "which",
        severity=Severity.WARNING,
    )


def _judge_trip(s: Situation) -> Judgement:
    judged = together([*_operates(s), *_by_tester(s)])
    return judged if judged.limits else judged.model_copy(update={"limits": _trip_limits()})


TESTER: Final = "tester plugged into the outlet, or into its listed test adapter"
CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.ground_fault_trip",
        title="Ground-fault trip test",
        quantity="Trip",
        how=(
            "With the vehicle unplugged, press the test button, then restore it. Where a tester "
            "is at hand, ramp the current until it trips, then time it at a current of 6 mA or "
            "more; write the current that the tester really draws."
        ),
        inputs=(
            YesNo("is_tripped_by_button", "Its test button trips it", good=True),
            YesNo(
                "is_restored",
                "Restores after the test",
                good=True,
                when=When("is_tripped_by_button", ("yes",)),
            ),
            Choice(
                "method",
                "Tested",
                options=(
                    Option("button", "By its button alone"),
                    Option("current", "Tester, trip current"),
                    Option("time", "Tester, trip time"),
                    Option("both", "Tester, current and time"),
                    Option("none", "Tester does not trip it", "At more than 6 mA, or not in time"),
                ),
            ),
            Measurement(
                "trip_current",
                "Trips at",
                dimension=Dimension.CURRENT,
                units=("mA",),
                plausible=(0.001, 0.05),
                instruments=(InstrumentKind.GROUND_FAULT,),
                category=Category.CAT_II,
                access_point=TESTER,
                when=When("method", RAMPED),
                against=("trip current",),
            ),
            Measurement(
                "test_current",
                "Tester really drew",
                dimension=Dimension.CURRENT,
                units=("mA",),
                plausible=(0.001, 0.3),
                instruments=(InstrumentKind.GROUND_FAULT,),
                category=Category.CAT_II,
                access_point="as the tester shows it",
                when=When("method", TIMED),
            ),
            Measurement(
                "trip_time",
                "Trips in",
                dimension=Dimension.TIME,
                units=("ms", "s"),
                plausible=(0.001, 10.0),
                instruments=(InstrumentKind.GROUND_FAULT,),
                category=Category.CAT_II,
                access_point=TESTER,
                when=When("method", TIMED),
                against=("trip time",),
            ),
        ),
        judge=_judge_trip,
        state=CircuitState.ENERGISED,
        applies=has_device,
        cautions=(
            Caution(
                Severity.WARNING,
                "Dry hands, dry floor, vehicle unplugged: the test puts current into the ground.",
            ),
            Caution(
                Severity.CAUTION,
                "A trip that you did not cause is a fault to be found: do not restore it.",
            ),
        ),
    ),
)
