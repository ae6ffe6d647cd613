"""What strains a page: long words of a person, many of a thing, nothing yet."""

from checks.record import DangerAnswer
from fieldapp.walk.desk import Desk
from tests.gallery.states.staging import after, state
from tests.gallery.states.visit import path
from tests.gallery.walking import WRONG, begin, walk_to
from tests.ui.answers import plausible

LONG = "Invented multi-family building, underground garage, third level, bays along the north wall"
LONG_POINT = "Bay 117 beside the bicycle room, shared by apartments 4 and 5"


@state
def path_new(desk: Desk) -> None:
    """Just begun."""
    desk.ledger.go("path", begin(desk, is_invented=False).visit.id)


@state
def path_long(desk: Desk) -> None:
    walk = begin(desk, site=LONG, name=LONG_POINT, panel="Distribution panel of the garage")
    walk_to(walk, "energised", WRONG | {"panel.condition.has_heat_marks": "no"})
    desk.ledger.go("path", walk.visit.id)


@after(path_long)
def findings_long(desk: Desk) -> None:
    desk.ledger.go("findings", desk.ledger.position.visit)


@after(path_long)
def result_long(desk: Desk) -> None:
    desk.ledger.go("result", desk.ledger.position.visit, "outlet.configuration@c1")


@after(path_long)
def station_long(desk: Desk) -> None:
    desk.ledger.go("station", desk.ledger.position.visit, "charger")


@after(path_long)
def points_four(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    for _ in range(3):
        walk.copy_point("c1")
    desk.ledger.go("points", walk.visit.id)


@after(path)
def findings_none(desk: Desk) -> None:
    desk.ledger.go("findings", begin(desk).visit.id)


@state
def path_stays_on(desk: Desk) -> None:
    """A danger was found, and the supply cannot be switched off."""
    walk = begin(desk)
    walk_to(walk, "panel.condition")
    walk.begin("panel.condition")
    walk.acknowledge()
    walk.answer("yes")
    walk.answer_danger(DangerAnswer.STAYS_ON)
    while (asked := walk.questions.current) is not None:
        walk.answer(plausible("panel.condition", asked))
    walk.commit()
    desk.ledger.go("path", walk.visit.id)
