"""Loops to neutral and to ground: which conductor holds a joint, read without any load."""

from collections.abc import Collection
from typing import Final, NamedTuple

from checks.check import (
    Caution,
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Situation,
    When,
    compare,
    not_measured,
    together,
    unsettled,
)
from checks.electrical.assumed_ohms import SOUND, SUPPLY, assumed_supply_ohm
from checks.electrical.joint import JOINT_W
from checks.electrical.loop_reading import LOOPS, holder, loop_excess_ohm
from checks.quantity import expanded, nominal
from checks.record import Category, InstrumentKind, VisitKind
from checks.source import trade
from checks.stations.circuit_facts import full_current_a
from checks.stations.outlet.load_inputs import AT_PANEL
from checks.stations.outlet.no_load import LINES, POINTS, reachable
from checks.stations.outlet.run_metal import ground_metal_ohm, metal_ohm, metal_temp_c, sound_ohm
from checks.units import Dimension, Number
from checks.verdict import Force, Judgement, Limit, Severity, at_most

GROUND: Final = "ground"
PAIRS: Final = {  # and the input of each
    ("L1", "neutral"): "outlet.loop_resistance.l1_neutral",
    ("L2", "neutral"): "outlet.loop_resistance.l2_neutral",
    ("L1", GROUND): "outlet.loop_resistance.l1_ground",
    ("L2", GROUND): "outlet.loop_resistance.l2_ground",
    ("line", "neutral"): "outlet.loop_resistance.line_neutral",
    ("line", GROUND): "outlet.loop_resistance.line_ground",
}


# Which loops there are, by the conductors at the outlet.
THERE: Final = {
    "line_neutral": (("line", "neutral"), ("line", GROUND)),
    "two_lines": (("L1", GROUND), ("L2", GROUND)),
    "two_lines_neutral": (
        ("L1", "neutral"),
        ("L2", "neutral"),
        ("L1", GROUND),
        ("L2", GROUND),
    ),
}


class Loop(NamedTuple):
    """One loop, and what explains it. [Ω]."""

    pair: tuple[str, str]
    loop_ohm: Number | None  # none until it was read
    supply_ohm: Number
    metal_ohm: Number
    sound_ohm: Number

    @property
    def excess_ohm(self) -> Number:
        """What neither supply nor metal explains."""
        loop_ohm = 0.0 if self.loop_ohm is None else self.loop_ohm
        return loop_excess_ohm(loop_ohm, self.supply_ohm, self.metal_ohm)

    @property
    def words(self) -> str:
        """The loop by the names of its ends."""
        return _words(self.pair)


def _words(pair: tuple[str, str]) -> str:
    return f"{pair[0]} to {pair[1]}"


def _there(s: Situation) -> tuple[tuple[str, str], ...]:
    """Return which loops this outlet has."""
    return THERE.get(s.choice("outlet.loop_resistance.conductors") or "", ())


def _loops(s: Situation) -> list[Loop]:
    """Return the loops of this outlet whose metal is known; nothing else can be judged."""
    temp_c, panel_ohm = metal_temp_c(s, 0.0), s.measured("outlet.loop_resistance.panel")
    both_ohm, ground_ohm = metal_ohm(s, temp_c), ground_metal_ohm(s, temp_c)
    if both_ohm is None:
        return []
    supply_ohm, sound = assumed_supply_ohm() if panel_ohm is None else panel_ohm, sound_ohm(s)
    found = []
    for pair in _there(s):
        back_ohm = ground_ohm if pair[1] == GROUND else both_ohm / 2
        if back_ohm is not None:
            found.append(
                Loop(pair, s.measured(PAIRS[pair]), supply_ohm, both_ohm / 2 + back_ohm, sound)
            )
    return found


def loop_holder(s: Situation) -> str:
    """Return the conductor that holds a joint, where the loops show one; else empty."""
    loops = [loop for loop in _loops(s) if loop.loop_ohm is not None]
    if not loops:
        return ""
    allowed_ohm = nominal(loops[0].sound_ohm) + expanded(loops[0].sound_ohm)
    return holder({loop.pair: loop.excess_ohm for loop in loops}, allowed_ohm)


def _limit(loop: Loop) -> Limit:
    """Return what supply, metal and sound joints explain of a loop at the most."""
    explained_ohm = loop.supply_ohm + loop.metal_ohm + loop.sound_ohm
    most_ohm = nominal(explained_ohm) + expanded(explained_ohm)
    return at_most(
        most_ohm,
        "Ω",
        Force.TRADE_JUDGEMENT,
        SOUND,
        of=f"{loop.words}, explained",
        places=3,
        working=(
            f"{loop.words}: supply {_ohm(loop.supply_ohm)}, metal {_ohm(loop.metal_ohm)}, sound "
            f"joints {_ohm(loop.sound_ohm)}",
        ),
    )


def _ohm(ohm: Number) -> str:
    return f"{nominal(ohm):.3f} ± {expanded(ohm):.3f} Ω"


def _part(s: Situation, loop: Loop, loop_ohm: Number, held_by: str) -> Judgement:
    limit, full_a = _limit(loop), full_current_a(s)
    is_ground = held_by == GROUND
    heat_w = 0.0 if full_a is None else (nominal(loop_ohm) - limit.value) * full_a**2
    where = f"; the loops show it in {_called(held_by)}" if held_by else ""
    return compare(
        loop_ohm,
        "Ω",
        (limit,),
        explanation=f"From {loop.words} there are {nominal(loop_ohm):.2f} Ω, of which supply, "
        f"metal and sound joints explain {limit.value:.3f} Ω at the most{where}",
        why="A fault to ground may draw too little to open the breaker, and leaves metal alive"
        if is_ground
        else "A connection with resistance of its own heats under load until it burns",
        remedy="Switch off and lock; make it dead and remake every joint of "
        + (_called(held_by) if held_by else "the loop"),
        severity=Severity.DANGER if heat_w > JOINT_W and not is_ground else Severity.WARNING,
        settles="Read the loop at the panel too, with a meter that shows milliohms",
        of=limit.amount.of,
    )


def _called(conductor: str) -> str:
    return conductor if conductor.startswith("L") else f"the {conductor}"


def _left_open(s: Situation, judged: Collection[tuple[str, str]]) -> list[Judgement]:
    """Return the loops that were not read, and those read whose metal is not known.

    A loop to ground may be left out where neutral loops tell of the lines: it would trip a
    ground-fault device.
    """
    asked = [pair for pair in _there(s) if pair[1] != GROUND] or _there(s)
    unread = ", ".join(_words(pair) for pair in asked if s.measured(PAIRS[pair]) is None)
    parts = [not_measured(f"Still open: {unread}")] if unread else []
    for pair in _there(s):
        loop_ohm = s.measured(PAIRS[pair])
        if loop_ohm is not None and pair not in judged:
            parts.append(
                unsettled(
                    f"From {_words(pair)} there are {nominal(loop_ohm):.2f} Ω, and nothing says "
                    "what is right: its ground is no wire of a known size",
                    "Record the grounding conductor at the run, or read its ohms dead",
                    severity=Severity.NOTICE,
                    sources=(trade("ohms are held against a wire whose size is known"),),
                )
            )
    return parts


def _judge(s: Situation) -> Judgement:
    loops, held_by = _loops(s), loop_holder(s)
    parts = [
        _part(s, loop, loop.loop_ohm, held_by if held_by in loop.pair else "")
        for loop in loops
        if loop.loop_ohm is not None
    ]
    if not parts:
        return not_measured(
            "No loop has been read whose metal is known: size, metal and length are recorded "
            "at the run",
            [_limit(loop) for loop in loops],
        )
    parts += _left_open(s, {loop.pair for loop in loops})
    judged = together(parts, good="Supply, metal and sound joints explain every loop that was read")
    assumed = () if s.measured("outlet.loop_resistance.panel") is not None else (SUPPLY,)
    return judged.model_copy(update={"sources": (LOOPS, *assumed)})


def _loop(name: str, label: str, wires: tuple[str, ...]) -> Measurement:
    is_ground = name.endswith("ground")
    return Measurement(
        name,
        label,
        dimension=Dimension.RESISTANCE,
        units=("Ω", "mΩ"),
        plausible=(0.02, 3.0),
        instruments=(InstrumentKind.LOOP,),
        category=Category.CAT_III,
        access_point=POINTS,
        when=When("conductors", wires),
        optional=is_ground,
        help="Leave it out behind a ground-fault device for people: it would trip"
        if is_ground
        else "",
    )


CHECKS: Final[tuple[Check, ...]] = (
    Check(
        id="outlet.loop_resistance",
        title="Loops to neutral and ground",
        quantity="Loop",
        how=(
            "With no load on, read each loop with a loop tester at the outlet, and line to "
            "neutral at the panel. A joint in a line raises both of its loops alike, one in the "
            "neutral or the ground only the loops through it."
        ),
        inputs=(
            Choice(
                "conductors",
                "Conductors at the outlet",
                options=(
                    Option("line_neutral", "Line, neutral, ground"),
                    Option("two_lines", "Two lines, ground"),
                    Option("two_lines_neutral", "Two lines, neutral, ground"),
                ),
            ),
            _loop("line_neutral", "Line to neutral", ("line_neutral",)),
            _loop("line_ground", "Line to ground", ("line_neutral",)),
            _loop("l1_neutral", "L1 to neutral", ("two_lines_neutral",)),
            _loop("l2_neutral", "L2 to neutral", ("two_lines_neutral",)),
            _loop("l1_ground", "L1 to ground", LINES),
            _loop("l2_ground", "L2 to ground", LINES),
            Measurement(
                "panel",
                "Panel, line to neutral",
                dimension=Dimension.RESISTANCE,
                units=("Ω", "mΩ"),
                plausible=(0.005, 1.0),
                instruments=(InstrumentKind.LOOP,),
                category=Category.CAT_III,
                access_point=AT_PANEL,
                optional=True,
            ),
        ),
        judge=_judge,
        state=CircuitState.ENERGISED,
        needs=("outlet.damage", "outlet.no_load_voltage"),
        kinds=(VisitKind.SERVICE_CALL,),
        applies=reachable,
        cautions=(
            Caution(
                Severity.DANGER,
                "The tester draws many amperes for an instant, and over a broken ground makes "
                "grounded metal live: nobody touches charger or vehicle meanwhile. Guarded points "
                "only, leads of CAT III or more. On sparks or smell end it and switch off from a "
                "safe point.",
            ),
        ),
    ),
)
