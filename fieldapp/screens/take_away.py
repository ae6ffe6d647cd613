"""The key that takes away a charging point or a panel that was added by slip."""

from functools import partial

from fieldapp.screens.screen import Screen, guarded, key
from fieldapp.screens.sheets import Sheet, nothing
from fieldapp.widgets import KeyButton


def take_away_keys(screen: Screen, subject: str) -> list[KeyButton]:
    """Return the key; none where the visit is signed, or it has no other of the kind."""
    walk = screen.walk
    kinds = (walk.visit.panels, walk.visit.points)
    is_one_of_more = any(len(k) > 1 and subject in {p.id for p in k} for k in kinds)
    if walk.is_signed or not is_one_of_more:
        return []
    words = f"Take {walk.visit.name_of(subject)} away"
    return [key(words, partial(_ask, screen, subject))]


def _ask(screen: Screen, subject: str) -> None:
    """Ask before it goes; where it stays, what is said is why."""
    walk = screen.walk
    walk.require_nothing_at(subject, earlier=screen.guide.desk.reinspections(walk))
    name = walk.visit.name_of(subject)
    Sheet(
        f"Take {name} away?",
        words=("Nothing is recorded of it. Undo puts it back, here or on the path.",),
        accept=("Take it away", guarded(partial(_take_away, screen, subject))),
        decline=("Leave it", nothing),
    ).open()


def _take_away(screen: Screen, subject: str) -> None:
    guide, walk = screen.guide, screen.walk
    walk.take_away(subject, earlier=guide.desk.reinspections(walk))
    taken = walk.last_recorded
    screen.enter(screen.of)

    @guarded
    def put_back() -> None:
        if walk.last_recorded == taken and guide.walk is walk:
            walk.undo()
            screen.fill()

    screen.offer_undo(taken, put_back)
