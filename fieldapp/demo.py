"""The invented demo visit, through the same desk, walk, store and signature as a user's."""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, NamedTuple

from checks.assess import Assessment
from checks.check import AnyInput, Check, Measurement, Series
from checks.record import Decision, Mark, NotDoneReason, Person, Visit
from checks.trends import PointTrend
from fieldapp.store import Store
from fieldapp.theme import asset
from fieldapp.walk import forms
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.finish import KEYS, finish
from fieldapp.walk.thread import is_service_call, thread
from fieldapp.walk.visit import Walk, WalkError

DEFAULT: Final = "orchard"
VISITS: Final = (DEFAULT, "cottage")
A_STEP_LATER: Final = timedelta(seconds=40)
A_READING_LATER: Final = timedelta(seconds=10)
READ_AGAIN: Final = 6

Scenario = Mapping[str, Any]
Said = Mapping[str, Mapping[str, str | list[str]]]


@dataclass
class ScenarioClock:
    """The scenario's own clock: it goes on by the same time at every look."""

    at: datetime
    step: timedelta = A_STEP_LATER

    def __call__(self) -> datetime:
        """Return the time, and let it go on."""
        self.at += self.step
        return self.at

    @contextmanager
    def standing(self) -> Iterator[None]:
        """Let it stand for a while, to be set by hand."""
        self.step = timedelta(0)
        yield
        self.step = A_STEP_LATER


class Walked(NamedTuple):
    """What a walked scenario leaves: the record, what it means, what changed, the signed report."""

    visit: Visit
    assessment: Assessment
    trends: tuple[PointTrend, ...]
    pdf: bytes


def run(name: str = DEFAULT) -> Walked:
    """Walk one of the scenarios in ``assets/demo``; see `walk_scenario`."""
    return walk_scenario(_asset(name))


def _asset(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads(asset(f"demo/{name}.json").read_text(encoding="utf-8"))
    return found


def walk_scenario(scenario: Scenario) -> Walked:
    """Walk a scenario from the first question to the signed report.

    Parameters
    ----------
    scenario : Mapping
        What is said to every question, in the form of ``assets/demo/orchard.json``.

    Returns
    -------
    Walked
        The record, what it means, what changed since earlier visits, and the signed PDF.

    Raises
    ------
    WalkError
        The walk asks for something that the scenario does not say.
    """
    clock = ScenarioClock(datetime.fromisoformat(scenario["started"]))
    with TemporaryDirectory() as folder, Store(Path(folder) / "store") as store:
        for name in scenario.get("earlier", ()):
            record = _asset(name)
            store.save(record)
            store.seal(record["id"], {"signer": record["technician"]["name"]})
        desk = Desk(store, clock)
        desk.set(technician=Person.model_validate(scenario["technician"]))
        _fill(desk, forms.BEGIN, scenario["begin"])
        _fill(desk, forms.POINT, scenario["point"])
        walk = desk.begin_visit(is_invented=True)
        if is_service_call(walk):
            _search(walk, scenario, clock)
        else:
            _walk(walk, scenario["checks"], clock)
        _photograph(walk, scenario.get("photos", {}))
        changed = desk.trends(walk)
        report = finish(
            store,
            walk,
            Path(folder) / KEYS,
            strokes=scenario["strokes"],
            decision=Decision(scenario["decision"]),
            witness=scenario["witness"],
            pin=scenario["pin"],
            now=clock,
            progress=lambda _part, _text: None,
            trends=changed,
        )
        return Walked(walk.visit, walk.assessment, changed, report.path.read_bytes())


def _fill(desk: Desk, form: Check, said: Mapping[str, str]) -> None:
    questions = desk.form(form)
    while (asked := questions.current) is not None:
        if asked.name in said:
            questions = desk.answer_form(questions, said[asked.name])
        else:
            questions = questions.passed_over()
            desk.keep_form(questions)
            if questions.current is asked:
                raise WalkError(
                    "the scenario leaves a question open",
                    where=f"{form.id}.{asked.name}",
                    remedy="Answer it",
                )


def _walk(walk: Walk, said: Said, clock: ScenarioClock) -> None:
    """Do what the walk asks for next, until it asks for nothing more."""
    while (step := walk.next_step) is not None:
        if isinstance(step, Step):
            _make(walk, _chosen(walk, step, said), said, clock)
        else:
            walk.enter_state(step)
    for left in walk.steps:
        if not left.is_done and "not_done" in said.get(left.row.check, {}):
            _leave_out(walk, left.row.check, said[left.row.check])


def _search(walk: Walk, scenario: Scenario, clock: ScenarioClock) -> None:
    """Read the plates, then follow a service call's thread to the decision."""
    for check in scenario["plates"]:
        _make(walk, check, scenario["checks"], clock)
    while (now := thread(walk)).next is not None:
        if isinstance(now.next, Step):
            said = scenario["after_mending"] if now.is_repeat else scenario["checks"]
            walk.begin(now.next.row.check, after_mending=now.is_repeat)
            _make(walk, now.next.row.check, said, clock)
        else:
            walk.enter_state(now.next)


def _photograph(walk: Walk, photos: Mapping[str, Sequence[Mapping[str, Any]]]) -> None:
    """Put photos, with the marks that point at the evidence, to checks that are made."""
    for check, taken in photos.items():
        entry = next(e for e in reversed(walk.visit.entries) if e.check == check)
        key = photos_key(entry, is_made=True)
        for each in taken:
            name = walk.store_photo(asset(each["file"]))
            walk.attach_photo(name, key)
            walk.mark_photo(name, Mark.model_validate(each["mark"], strict=False), key)


def _chosen(walk: Walk, step: Step, said: Said) -> str:
    """Return the check to make: of those open in this state the one the scenario names first."""
    is_open = {
        s.row.check
        for s in walk.steps
        if s.row.state is step.row.state and not (s.is_done or s.shut_because)
    }
    return next((check for check in said if check in is_open), step.row.check)


def _leave_out(walk: Walk, check: str, said: Mapping[str, str | list[str]]) -> None:
    reason = NotDoneReason(str(said["not_done"]))
    walk.leave_out(reason, str(said.get("text", "")), check_id=check)


def _make(walk: Walk, check: str, said: Said, clock: ScenarioClock) -> None:
    if check not in said:
        raise WalkError(
            "the scenario does not say what is found", where=check, remedy="Add it to the scenario"
        )
    found = said[check]
    if "not_done" in found:
        _leave_out(walk, check, found)
        return
    walk.begin(check)
    walk.acknowledge()
    while walk.questions is not None and (asked := walk.questions.current) is not None:
        if isinstance(asked, Series):
            with clock.standing():
                _measure(walk, found, clock)
        elif asked.name in found:
            _answer(walk, asked, str(found[asked.name]))
        else:
            walk.pass_over()
            _must_have_moved(walk, check, asked)
    walk.commit()


def _measure(walk: Walk, found: Mapping[str, str | list[str]], clock: ScenarioClock) -> None:
    """Take each reading when it is due, until one is due that the scenario does not say.

    One text for a series is read six times the same.
    """
    left = {
        name: [said] * READ_AGAIN if isinstance(said, str) else list(said)
        for name, said in found.items()
    }
    while left.get(name := walk.due.name) or name not in left:
        asked = walk.check.input(name)
        assert asked is not None
        walk.go_to(name)
        if name in left:
            clock.at += timedelta(seconds=max(0.0, walk.due.in_s))
            _answer(walk, asked, left[name].pop(0))
            clock.at += A_READING_LATER
        else:
            walk.pass_over()
            _must_have_moved(walk, walk.check.id, asked)
    walk.end_series()


def _must_have_moved(walk: Walk, check: str, asked: AnyInput) -> None:
    if walk.questions is not None and walk.questions.current is asked:
        raise WalkError(
            "the scenario leaves a question open", where=f"{check}.{asked.name}", remedy="Answer it"
        )


def _answer(walk: Walk, asked: AnyInput, text: str) -> None:
    """Give an answer; of a number the words are digits, unit and, where it matters, instrument."""
    takes_number: Callable[[object], bool] = lambda i: hasattr(i, "units")  # noqa: E731
    value, unit, tool = text, "", ""
    if takes_number(asked):
        value, unit, tool, *_ = [*text.split(" "), "", ""]
    if isinstance(asked, Measurement) and asked.instruments and not tool:
        fit = walk.instruments_for(asked)
        tool = fit[0].id if fit else ""
    doubt = walk.answer(value, unit=unit, instrument=tool)
    if doubt is not None:
        walk.answer(value, unit=unit, instrument=tool, sure=True)
