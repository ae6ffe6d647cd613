"""A service call, from the symptom to the repeated readings."""

from checks.check import CircuitState
from fieldapp.walk.desk import Desk
from fieldapp.walk.thread import Stage
from tests.gallery.states.staging import after, state
from tests.gallery.walking import KETTLE, SERVICE, begin, enter, follow, make


@state
def causes_empty(desk: Desk) -> None:
    walk = begin(desk, **SERVICE)
    desk.ledger.go("causes", walk.visit.id)


@after(causes_empty)
def causes_open(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    for check in ("charger.behavior", "breaker.trip_history", "surroundings.circumstances"):
        make(walk, check, KETTLE)


@after(causes_open)
def result_on_call(desk: Desk) -> None:
    """Something found on the way to the cause."""
    desk.ledger.go("result", desk.ledger.position.visit, "breaker.trip_history@c1")


@after(causes_open)
def choice_dedicated(desk: Desk) -> None:
    """A check on the way to the cause."""
    walk = desk.open(desk.ledger.position.visit)
    make(walk, "run.dedicated", KETTLE, "is_alone")
    desk.ledger.go("check", walk.visit.id, "run.dedicated")


@after(causes_open)
def causes_proven(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
        make(walk, plate, KETTLE)
    follow(walk, KETTLE, Stage.REPAIR)


@after(causes_proven)
def causes_dead(desk: Desk) -> None:
    """Mended, and dead: the readings that were made are repeated."""
    walk = desk.open(desk.ledger.position.visit)
    follow(walk, KETTLE, Stage.REPEAT)
    enter(walk, CircuitState.DEAD)


@after(causes_proven)
def station_causes(desk: Desk) -> None:
    desk.ledger.go("station", desk.ledger.position.visit, "run")


@after(causes_proven)
def causes_repeated(desk: Desk) -> None:
    walk = desk.open(desk.ledger.position.visit)
    follow(walk, KETTLE | {"run.dedicated.is_alone": "yes"}, Stage.DECIDE)


@after(causes_repeated)
def result_repeated(desk: Desk) -> None:
    desk.ledger.go("result", desk.ledger.position.visit, "run.dedicated@c1")


@after(causes_repeated)
def sign_off_repeated(desk: Desk) -> None:
    desk.ledger.go("sign_off", desk.ledger.position.visit)
