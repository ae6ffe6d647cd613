"""A walk that is killed and opened again after every single step.

It closes the store, opens a fresh one on the same folder, and asserts that a fresh walk sees
exactly what the old one saw: every step is on disk before the next, and nothing typed is lost.
"""

from collections.abc import Callable
from datetime import datetime, timedelta, timezone
from pathlib import Path
from typing import Any

import pytest

from checks.check import CircuitState
from checks.errors import ChecksError
from checks.record import (
    StateEntry,
    Visit,
)
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from fieldapp.store.visits import Store
from fieldapp.walk.visit import Walk
from tests.builders import NOON, POINT
from tests.ui.answers import plausible

METER, TAPE = "multimeter", "measuring-tape"
PROOF = "breaker.absence_of_voltage"
CONDITION = ("no", "no", "no")
LIVE = "energised"
LOCKED = ("yes", "yes", "yes", "yes", "yes")
BUS_DEAD = ("yes", "yes", "yes", "120.4 V", "yes", "0.1 V", "120.3 V")


class Clock:
    """One second later at each look."""

    def __init__(self) -> None:
        self.at = datetime(2025, 6, 2, 9, 0, tzinfo=timezone(timedelta(hours=-4)))

    def __call__(self) -> datetime:
        self.at += timedelta(seconds=1)
        return self.at


def seen(walk: Walk) -> dict[str, Any]:
    """All that a screen could show of a walk."""
    questions = walk.questions
    return {
        "visit": walk.visit,
        "assessment": walk.assessment,
        "point": walk.point_id,
        "state": walk.state,
        "steps": walk.steps,
        "next": walk.next_step,
        "progress": walk.progress,
        "last": walk.last_recorded,
        "questions": questions,
        "current": questions and questions.current,
        "place": questions and questions.place,
        "awaits_photo": walk.awaits_photo,
        "awaits": questions and walk.awaits_cautions,
        "preview": questions and walk.preview(),
    }


class Reopened:
    """A walk that is killed and opened again after every step."""

    def __init__(self, folder: Path, made: Visit) -> None:
        self.folder, self.clock = folder, Clock()
        with Store(folder) as store:
            store.save(made.model_dump(mode="json"))
        self.id = made.id
        self.steps_taken = 0
        self._open()

    def _open(self) -> None:
        self.store = Store(self.folder)
        self.walk = Walk(self.store, self.id, self.clock)

    def close(self) -> None:
        self.store.close()

    def do(self, step: Callable[[Walk], Any]) -> Any:
        result = step(self.walk)
        before = seen(self.walk)
        self.close()
        self._open()
        assert seen(self.walk) == before
        self.steps_taken += 1
        return result

    def refused(self, step: Callable[[Walk], Any], match: str) -> None:
        """A step that is refused changes nothing, in memory or on disk."""
        before = seen(self.walk)
        with pytest.raises(ChecksError, match=match):
            step(self.walk)
        assert seen(self.walk) == before
        self.close()
        self._open()
        assert seen(self.walk) == before

    def answers(self, check: str, *values: str, **begin: bool) -> None:
        """Begin a check, acknowledge its cautions, and answer its questions one by one."""
        self.do(lambda w: w.begin(check, **begin))
        if self.walk.awaits_cautions:
            self.do(lambda w: w.acknowledge())
        for value in values:
            digits, _, unit = value.partition(" ")
            instrument = self._instrument()
            doubted = self.do(
                lambda w, d=digits, u=unit, i=instrument: w.answer(d, unit=u, instrument=i)
            )
            assert doubted is None, doubted

    def _instrument(self) -> str:
        questions = self.walk.questions
        assert questions is not None
        assert questions.current is not None
        fit = self.walk.instruments_for(questions.current)
        return fit[0].id if fit else ""

    def makes(self, check: str, *values: str, **begin: bool) -> Verdict:
        self.answers(check, *values, **begin)
        return self.do(lambda w: w.commit()).judgement.verdict

    def proves_dead(self) -> None:
        self.do(lambda w: w.enter_state(CircuitState.DEAD))
        self.makes("breaker.lock_and_tag", *LOCKED)
        self.makes("breaker.absence_of_voltage", "120.4 V", "yes", "0.1 V", "120.3 V")

    def proves_the_bus_dead(self) -> None:
        self.proves_dead()
        self.makes("panel.absence_of_voltage", *BUS_DEAD)


Walks = Callable[..., Reopened]


def said_to_be(state: str, number: int, at: str = POINT) -> StateEntry:
    return StateEntry(number=number, point=at, state=state, at=NOON)


def plausible_but(check: str, first: str) -> list[str]:
    """What is plausible, but for the first answer."""
    answers = [plausible(check, i) for i in BY_ID[check].inputs if i.when is None]
    return [first, *answers[1:]]
