"""Terminal torque: applied while tightening, or found later; declared once for every terminal."""

from functools import partial
from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    CircuitState,
    Judge,
    Measurement,
    Option,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.quantity import amount
from checks.record import Attachment, Chosen, Entry, InstrumentKind, VisitKind
from checks.source import judgement
from checks.stations.observing import BESIDE_BUS, INSIDE, rule_source
from checks.units import Dimension
from checks.verdict import Force, Judgement, Limit, Severity, Verdict, at_least, at_most

TOLERANCE_RATIO: Final = 0.10
TOLERANCE: Final = judgement("applied torque within 10 % of the label, as good wrenches can tell")
AT_BREAKER: Final = "breaker.terminal_torque"
AT_PANEL: Final = "panel.terminal_torque"
TIGHTENED: Final = When("occasion", ("tightening",))
SEEN: Final = When("occasion", ("found",))

_THEN: Final = (  # asked once the occasion is told
    Rating(
        "label",
        "Torque on the label",
        dimension=Dimension.TORQUE,
        units=("N·m", "lbf·in"),
        plausible=(0.5, 40.0),
        when=TIGHTENED,
        help="On the equipment, in its instructions, or from its maker",
    ),
    Measurement(
        "applied",
        "Torque applied",
        dimension=Dimension.TORQUE,
        units=("N·m", "lbf·in"),
        plausible=(0.5, 40.0),
        instruments=(InstrumentKind.TORQUE,),
        access_point="terminal screw, dead",
        against=EVERY,
        when=TIGHTENED,
    ),
    YesNo("are_all_done", "Every terminal of it done", good=True, when=TIGHTENED),
    Choice(
        "found",
        "Found",
        options=(Option("loose", "Loose"), Option("not loose", "Not loose")),
        when=SEEN,
    ),
)


def torque_check(
    check: str,
    where: str,
    how: str = "",
    *,
    in_panel: bool = False,
    kinds: tuple[VisitKind, ...] = tuple(VisitKind),
) -> Check:
    """Return the check of the terminals at one place.

    Parameters
    ----------
    check : str
        Its id.
    where : str
        The place, such as ``"breaker"``.
    how : str
        What to do, where not every terminal of the place is brought to its value.
    in_panel : bool
        A hand goes into the panel for it.
    kinds : tuple of VisitKind
        The visits it belongs to.
    """
    return Check(
        id=check,
        title=f"Terminal torque, {where}",
        quantity="Torque",
        how=how
        or f"Dead, locked and proved: with a torque tool bring every terminal of the {where} to "
        "the value on its label, and enter both. On a later visit do not turn the screw to see: "
        "enter whether the conductor is loose.",
        inputs=(_occasion(check), *_THEN),
        judge=_judge_at(check),
        state=CircuitState.DEAD,
        ends=in_panel,
        undone=partial(_taken_off, check=check),
        opens=True,
        needs=(INSIDE,) if in_panel else (),
        kinds=kinds,
        cautions=(
            Caution(
                Severity.WARNING,
                "Only on a circuit that is dead, locked and proved. A terminal that was tightened "
                "once is not checked by turning it again.",
            ),
            *((BESIDE_BUS,) if in_panel else ()),
        ),
    )


def _occasion(check: str) -> Choice:
    return Choice(
        "occasion",
        "When",
        options=(
            Option("tightening", "While tightening"),
            Option("found", "Found as it is", where=partial(_is_in_use, check=check)),
        ),
    )


def _judge_at(check: str) -> Judge:
    def judge(s: Situation) -> Judgement:
        occasion = s.choice(f"{check}.occasion")
        if occasion is None:
            return not_measured("Enter whether this is while tightening, or found as it is")
        is_found = occasion == "found"
        judged = (
            _judge_found(s, s.choice(f"{check}.found")) if is_found else _judge_tightened(s, check)
        )
        return (
            judged
            if judged.verdict is Verdict.NOT_MEASURED
            else together((*_undone(s, check), judged))
        )

    return judge


def _limits(label_nm: float, symbol: str) -> tuple[Limit, ...]:
    return (
        at_least(label_nm * (1 - TOLERANCE_RATIO), symbol, Force.TRADE_JUDGEMENT, TOLERANCE),
        at_most(label_nm * (1 + TOLERANCE_RATIO), symbol, Force.TRADE_JUDGEMENT, TOLERANCE),
    )


def _judge_tightened(s: Situation, check: str) -> Judgement:
    rule = s.code.installation.seen["torque"]
    symbol = s.unit_of(f"{check}.label", "N·m")
    label_nm, applied_nm = s.rating(f"{check}.label"), s.measured(f"{check}.applied")
    if label_nm is None:
        return not_measured("Read the torque on the label first", sources=(rule.source,))
    limits = _limits(label_nm, symbol)
    all_done = s.yes(f"{check}.are_all_done")
    if applied_nm is None or all_done is None:
        return not_measured("Tighten with the tool and enter what was applied", limits)
    entry = s.entry(check)
    was_off = 0 < _taken_off(s, check) < _number(s, check)
    is_remade = was_off or (entry is not None and entry.after_mending)
    if s.visit.kind is not VisitKind.COMMISSIONING and not is_remade:
        return unsettled(
            "Tightened now, on a joint that was in use: what it had before is not known",
            "Open, clean and remake the joint, or watch its temperature under load",
            limits=limits,
            sources=(rule.source,),
        )
    parts = (
        compare(
            applied_nm,
            symbol,
            limits,
            explanation=f"Applied {amount(applied_nm, symbol)} against "
            f"{amount(label_nm, symbol)} on the label",
            why="A terminal below its torque heats; one above it is crushed or cracked",
            remedy="Dead and locked: loosen, look at conductor and screw, and tighten to the label",
            severity=Severity.WARNING,
            settles="Use a torque tool with a better stated accuracy",
            sources=(rule.source,),
        ),
        seen(
            all_done,
            explanation="Every terminal done" if all_done else "Not every terminal was tightened",
            source=rule.source,
            why="The one that was left out is the one that burns",
            remedy="Tighten the others to their label, dead and locked",
            severity=Severity.WARNING,
        ),
    )
    return together(parts)


def _taken_off(s: Situation, check: str) -> int:
    """Return the number of the last test that took the conductors off these terminals."""
    if check == AT_PANEL:
        return 0
    is_off = _is_off_breaker if check == AT_BREAKER else _is_off_outlet
    numbers = (n for n, place in _places(s) if is_off(s, place))
    alone = 0 if check == AT_BREAKER else _number(s, "run.insulation_alone")
    return max((*numbers, alone))


def _is_in_use(s: Situation, *, check: str) -> bool:
    """Return whether they can be as they were found: no test had their conductors off."""
    return not _taken_off(s, check)


def _tightened(s: Situation, check: str) -> int:
    return _number(s, check) if s.choice(f"{check}.occasion") == "tightening" else 0


def _undone(s: Situation, check: str) -> tuple[Judgement, ...]:
    """Return what is open where the conductors were taken off these terminals after this."""
    if _tightened(s, check) >= _taken_off(s, check):
        return ()
    is_breaker = check == AT_BREAKER
    return (
        unsettled(
            "The insulation was tested after this, with the conductors off the breaker"
            if is_breaker
            else "The insulation was tested after this, with the conductors off the outlet",
            "Land them again and bring every terminal to its label once more",
            why="A terminal below its torque heats",
            remedy="Dead and locked: tighten every terminal of the breaker to its label"
            if is_breaker
            else "Dead and locked: tighten every terminal of the outlet to its label",
            severity=Severity.WARNING,
            sources=(rule_source(s, "torque"),),
        ),
    )


def _number(s: Situation, check: str) -> int:
    made = s.entry(check)
    return 0 if made is None else made.number


def _places(s: Situation) -> list[tuple[int, str]]:
    """Return the number and the place of every test of the insulation, made once more or not."""
    last = s.entry("run.insulation")
    mine = () if last is None else (e for e in s.visit.entries if _is_same(e, last))
    said = ((e.number, e.answer("place")) for e in mine)
    return [(number, place.option) for number, place in said if isinstance(place, Chosen)]


def _is_same(one: Entry, other: Entry) -> bool:
    return (one.check, one.subject) == (other.check, other.subject)


def _is_off_breaker(_: Situation, place: str) -> bool:
    return place == "panel"


def _is_off_outlet(s: Situation, place: str) -> bool:
    """Return whether the insulation test took the conductors off the outlet's terminals.

    Tested from the panel, an empty plain receptacle may stay on: it has nothing that the test
    voltage would harm.
    """
    is_wired = s.point.attachment is not Attachment.RECEPTACLE
    return place != "panel" or is_wired or s.choice("outlet.ground_fault.device") == "receptacle"


def _judge_found(s: Situation, found: str | None) -> Judgement:
    source = rule_source(s, "torque")
    if found is None:
        return not_measured("Enter whether it was found loose", sources=(source,))
    if found == "loose":
        return seen(
            False,
            explanation="A terminal was found loose",
            source=source,
            why="A loose terminal heats under a load that lasts for hours",
            remedy="Keep the circuit dead and locked; look for heat marks, remake the joint and "
            "tighten it to the label",
            severity=Severity.DANGER,
        )
    return unsettled(
        "Found not loose; that does not show what torque was applied",
        "The torque that was applied is known only while tightening; measure the joint's "
        "temperature and drop under load instead",
        severity=Severity.NOTICE,
        sources=(source,),
    )
