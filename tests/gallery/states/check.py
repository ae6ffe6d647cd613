"""One check: its cautions, its questions, its series, its verdict."""

from datetime import datetime, timedelta
from math import exp
from pathlib import Path

from checks.record import NotDoneReason
from fieldapp.walk.desk import Desk
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.gallery.states.staging import after, state
from tests.gallery.states.visit import state_caution
from tests.gallery.walking import JOINT, WRONG, begin, make, walk_to


@state
def caution(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "run.insulation")
    desk.ledger.go("check", walk.visit.id, "run.insulation")


@state
def caution_in_view(desk: Desk) -> None:
    """Its caution was acknowledged at the check before, and stands on the page."""
    walk = begin(desk)
    walk_to(walk, "charger.ground_monitor")
    desk.ledger.go("check", walk.visit.id, "charger.ground_monitor")


def _asked(desk: Desk, check: str, upto: str) -> Walk:
    """Walk to a check, and answer it up to one of its questions."""
    walk = begin(desk)
    walk_to(walk, check)
    make(walk, check, {}, upto)
    desk.ledger.go("check", walk.visit.id, check)
    return walk


@state
def number(desk: Desk) -> None:
    """Before anything is typed."""
    _asked(desk, "run.insulation", "line_ground")


@after(number)
def number_typed(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    walk.typing("0.98", unit="MΩ")


@state
def number_signed(desk: Desk) -> None:
    _asked(desk, "charger.pilot_voltage", "negative").typing("-11.7", unit="V")


@state
def drop(desk: Desk) -> None:
    _asked(desk, "outlet.loaded_voltage", "outlet_loaded").typing("233.6", unit="V")


@state
def number_optional(desk: Desk) -> None:
    """A number that may be passed over, asked after another."""
    _asked(desk, "outlet.loaded_voltage", "air")


@after(number_optional)
def number_optional_typed(desk: Desk) -> None:
    desk.open(desk.ledger.position.visit).typing("24.5", unit="°C")


@after(drop)
def drop_empty(desk: Desk) -> None:
    desk.open(desk.ledger.position.visit).typing("", unit="V")


def _heated(minutes: float) -> float:
    """An outlet of 24 °C that warms by 5 K within 3 minutes and by 9 K within 18. [°C]."""
    return 24.0 + 5 * (1 - exp(-minutes / 3)) + 9 * (1 - exp(-minutes / 18))


def measure(walk: Walk, device: FakeDevice, until_min: float) -> None:
    """Take every reading of the outlet's series as it falls due; the part is `_heated`."""
    make(walk, "outlet.temperature", {}, "ambient")
    begun = device.clock
    while walk.lasted_s < 60 * until_min or walk.due.in_s <= 0:
        device.let_pass(timedelta(seconds=max(0.0, walk.due.in_s)))
        walk.go_to(walk.due.name)
        asked = walk.questions.current
        hot_c = _heated((device.clock - begun) / timedelta(minutes=1))
        texts = {"ambient": "24.0", "current": "39.6", "surface": f"{hot_c:.1f}"}
        value = texts.get(asked.name, f"{hot_c - 0.6:.1f}")
        tool = walk.instruments_for(asked)[0].id
        walk.answer(value, unit=asked.units[0], instrument=tool)
        device.let_pass(timedelta(seconds=10))


def _measuring(desk: Desk, begun: str, until_min: float) -> None:
    """A series that was begun at a time of this day; the app comes up at 9 o'clock."""
    device = FakeDevice(Path(), datetime.fromisoformat(f"2026-03-14T{begun}Z"))
    walk = begin(desk)
    walk_to(walk, "outlet.temperature")
    walk._now = device.now
    measure(walk, device, until_min)
    desk.ledger.go("check", walk.visit.id, "outlet.temperature")


@state
def measuring_due(desk: Desk) -> None:
    """The last readings were taken minutes ago."""
    _measuring(desk, "08:40:00", 12)


@state
def measuring_wait(desk: Desk) -> None:
    _measuring(desk, "08:47:10", 12)


@state
def measuring_settled(desk: Desk) -> None:
    _measuring(desk, "08:29:10", 30)


@state
def choice(desk: Desk) -> None:
    _asked(desk, "outlet.configuration", "kind")


@state
def yes_no(desk: Desk) -> None:
    _asked(desk, "panel.condition", "has_heat_marks")


@state
def yes_no_seen(desk: Desk) -> None:
    """Both answers say what is seen."""
    _asked(desk, "outlet.damage", "is_wet")


@state
def choice_surge(desk: Desk) -> None:
    """Before a check that begins with a number."""
    _asked(desk, "service.surge", "device")


@state
def choice_torque(desk: Desk) -> None:
    """The last check before the circuit is energised."""
    _asked(desk, "outlet.terminal_torque", "occasion")


@state
def no_instrument(desk: Desk) -> None:
    desk.set(instruments=())
    walk = begin(desk)
    make(walk, "panel.working_space", {}, "depth")
    desk.ledger.go("check", walk.visit.id, "panel.working_space")


@after(number)
def about(desk: Desk) -> None:
    desk.ledger.go("about", desk.ledger.position.visit, "run.insulation")


@after(state_caution)
def about_shut(desk: Desk) -> None:
    desk.ledger.go("about", desk.ledger.position.visit, "run.insulation")


@after(number)
def note(desk: Desk) -> None:
    desk.ledger.go("note", desk.ledger.position.visit, "run.insulation")


@after(number)
def leave_out(desk: Desk) -> None:
    desk.ledger.go("leave_out", desk.ledger.position.visit, "run.insulation")


def _result(desk: Desk, check: str, subject: str = "c1", *, after: str = "") -> None:
    walk = begin(desk)
    if after:
        make(walk, after, {})
    walk_to(walk, check)
    make(walk, check, WRONG)
    desk.ledger.go("result", walk.visit.id, f"{check}@{subject}")


@state
def result_within(desk: Desk) -> None:
    _result(desk, "run.protective_conductor")


@state
def result_outside(desk: Desk) -> None:
    _result(desk, "outlet.configuration", after="breaker.rating")


@state
def result_joint(desk: Desk) -> None:
    """A load test that finds a joint on one leg."""
    walk = begin(desk)
    walk_to(walk, "outlet.loaded_voltage")
    make(walk, "outlet.loaded_voltage", {f"outlet.loaded_voltage.{k}": v for k, v in JOINT.items()})
    desk.ledger.go("result", walk.visit.id, "outlet.loaded_voltage@c1")


@state
def result_danger(desk: Desk) -> None:
    _result(desk, "panel.condition", "p1")


@state
def result_left_out(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "run.length")
    walk.begin("run.length")
    walk.leave_out(NotDoneReason.NO_ACCESS, "Closed wall")
    desk.ledger.go("result", walk.visit.id, "run.length@c1")
