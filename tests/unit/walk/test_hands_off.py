"""Nothing is made live while a check that needs it dead is half made: hands may be there yet."""

from collections.abc import Callable
from typing import Final

import pytest

from checks.check import REPAIR, CircuitState
from checks.record import NotDoneReason, Photo, Role, VisitKind
from fieldapp.walk.visit import WalkError
from tests.builders import NOON, POINT, point
from tests.unit.walk.reopened import LIVE, Reopened, Walks, said_to_be
from tests.unit.walk.test_correcting import TWO_PANELS

UNFINISHED: Final = "it is begun and not finished"
BY_THE_GATE: Final = "must not be energised yet"
TWO_BAYS: Final = {"points": (point(), point(id="bay-2", name="Bay 2"))}
PHOTO: Final = Photo(name="0" * 64 + ".jpg", at=NOON)
HANDS: Final = {
    "panel.terminals": ("no",),
    "breaker.terminal_torque": ("tightening",),
    "run.insulation": ("panel", "yes"),
    "outlet.terminal_torque": ("tightening",),
}


def half_made(w: Reopened, check: str) -> None:
    w.proves_the_bus_dead()
    w.answers(check, *HANDS[check])
    assert w.walk.open_questions.missing


def energises(w: Reopened, match: str) -> None:
    w.refused(lambda walk: walk.enter_state(CircuitState.ENERGISED), match)


@pytest.mark.parametrize("check", HANDS)
def test_a_circuit_stays_dead_while_a_check_is_half_made_there(walks: Walks, check: str):
    w = walks()
    half_made(w, check)
    energises(w, UNFINISHED)
    w.do(lambda walk: walk.begin("breaker.rating"))  # another one is open now
    energises(w, UNFINISHED)
    w.refused(lambda walk: walk.enter_state(CircuitState.UNDER_LOAD), UNFINISHED)
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    energises(w, UNFINISHED)
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER, check_id=check))
    energises(w, BY_THE_GATE)


@pytest.mark.parametrize(
    ("check", "is_shared"), [(c, c != "outlet.terminal_torque") for c in HANDS]
)
def test_with_hands_in_a_panel_none_of_its_circuits_is_made_live(
    walks: Walks, check: str, is_shared: bool
):
    w = walks(**TWO_BAYS)
    half_made(w, check)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    energises(w, UNFINISHED if is_shared else BY_THE_GATE)


def test_what_is_tested_from_its_outlet_keeps_no_other_circuit_dead(walks: Walks):
    w = walks(**TWO_BAYS)
    w.proves_the_bus_dead()
    w.answers("run.insulation", "outlet", "yes")
    energises(w, UNFINISHED)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    energises(w, BY_THE_GATE)


def test_another_panel_is_made_live_all_the_same(walks: Walks):
    w = walks(panels=TWO_PANELS, points=(point(), point(id="bay-2", panel="panel-b")))
    half_made(w, "panel.terminals")
    w.do(lambda walk: walk.go_to_point("bay-2"))
    energises(w, BY_THE_GATE)


def test_what_is_only_looked_at_keeps_nothing_dead(walks: Walks):
    w = walks()
    w.proves_the_bus_dead()
    w.answers("outlet.damage", "no")
    energises(w, BY_THE_GATE)
    w.do(lambda walk: walk.begin("outlet.terminal_torque"))  # opened, and nothing answered
    energises(w, BY_THE_GATE)


def test_a_load_comes_off_whatever_is_half_made(walks: Walks):
    """Without current is the safer state."""
    w = walks()
    half_made(w, "outlet.terminal_torque")
    live = (said_to_be(LIVE, 90), said_to_be("under load", 91))  # as an older version let it be
    w.walk.visit = w.walk.visit.model_copy(update={"states": (*w.walk.visit.states, *live)})
    with pytest.raises(WalkError, match=BY_THE_GATE):
        w.walk.enter_state(CircuitState.ENERGISED)


def notes(w: Reopened) -> None:
    w.do(lambda walk: walk.note("Out of its box, wires hanging"))


def photographs(w: Reopened) -> None:
    w.do(lambda walk: walk.attach_photo(PHOTO.name, f"outlet.terminal_torque@{POINT}"))


@pytest.mark.parametrize("shows", [notes, photographs])
def test_a_photo_or_a_note_tells_of_hands_as_an_answer_does(
    walks: Walks, shows: Callable[[Reopened], None]
):
    w = walks()
    w.proves_the_bus_dead()
    w.do(lambda walk: walk.begin("outlet.terminal_torque"))
    energises(w, BY_THE_GATE)
    shows(w)
    energises(w, UNFINISHED)


@pytest.mark.parametrize(
    ("part", "here", "beside"),
    [
        ("none", BY_THE_GATE, BY_THE_GATE),
        ("receptacle", UNFINISHED, BY_THE_GATE),
        ("breaker", UNFINISHED, UNFINISHED),
    ],
)
def test_a_circuit_stays_dead_while_a_part_of_it_is_replaced(
    walks: Walks, part: str, here: str, beside: str
):
    w = walks(kind=VisitKind.SERVICE_CALL, role=Role.SERVES, **TWO_BAYS)
    w.proves_the_bus_dead()
    w.answers(REPAIR, "mended", part)
    energises(w, here)
    w.do(lambda walk: walk.go_to_point("bay-2"))
    energises(w, beside)
