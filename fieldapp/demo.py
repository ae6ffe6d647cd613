"""The invented demo visits, through the same desk, walk, store and signature as a user's."""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, Final, NamedTuple

from checks.assess import Assessment
from checks.check import AnyInput, Check, CircuitState, Measurement, Series
from checks.record import Decision, Mark, NotDoneReason, Person, Visit, Witness
from checks.trends import PointTrend
from fieldapp.store.folder import KEYS
from fieldapp.store.visits import Store
from fieldapp.theme import asset
from fieldapp.walk import forms
from fieldapp.walk.agenda import Step
from fieldapp.walk.desk import Desk
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.finish import finish
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.thread import is_service_call, thread
from fieldapp.walk.visit import Walk, WalkError

DEFAULT: Final = "orchard"
VISITS: Final = (DEFAULT, "cottage", "westwall", "workshop", "creekside")
A_STEP_LATER: Final = timedelta(seconds=40)
A_READING_LATER: Final = timedelta(seconds=10)
READ_AGAIN: Final = 6

Scenario = Mapping[str, Any]
Found = Mapping[str, str | list[str]]
Said = Mapping[str, Found]


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


class Deed(NamedTuple):
    """A check that is made next, and what is found by it; whether it is made after mending."""

    check: str
    found: Found
    is_repeat: bool = False


class Call:
    """Who goes on an invented service call: follows the thread, and looks where else told to.

    Parameters
    ----------
    scenario : Mapping
        ``plates`` are read first; ``checks`` says what is found, as a list where another look finds
        something else; with it may stand a ``note``, and ``wait_min``, the minutes that pass first;
        ``then`` names after which check which one is made at once, be it once more
        with nothing mended; ``after_mending`` says what is found then.
    """

    def __init__(self, scenario: Scenario) -> None:
        said = scenario["checks"]
        self._left = {c: list(f) if isinstance(f, list) else [f] for c, f in said.items()}
        self._mended: Said = scenario["after_mending"]
        self._then = dict(scenario.get("then", {}))
        self._coming: list[str] = list(scenario["plates"])

    def next(self, walk: Walk) -> Deed | CircuitState | None:
        """Return what is done next; nothing once the thread is at the decision."""
        if self._coming:
            return self._deed(self._coming.pop(0))
        now = thread(walk)
        if not isinstance(now.next, Step):
            return now.next
        check = now.next.row.check
        if now.is_repeat:
            return Deed(check, _told(self._mended, check), is_repeat=True)
        return self._deed(check)

    def _deed(self, check: str) -> Deed:
        found = _told(self._left, check)
        if check in self._then:
            self._coming.append(self._then.pop(check))
        return Deed(check, found.pop(0) if len(found) > 1 else found[0])


def run(name: str = DEFAULT) -> Walked:
    """Walk one of the scenarios in ``assets/demo``; see `walk_scenario`."""
    return walk_scenario(scenario(name))


def scenario(name: str) -> dict[str, Any]:
    """Return what one of the invented visits says to every question."""
    found: dict[str, Any] = json.loads(asset(f"demo/{name}.json").read_text(encoding="utf-8"))
    return found


def walk_scenario(told: Scenario) -> Walked:
    """Walk a scenario from the first question to the signed report.

    Parameters
    ----------
    told : Mapping
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
    clock = ScenarioClock(datetime.fromisoformat(told["started"]))
    with TemporaryDirectory() as folder, Store(Path(folder) / "store") as store:
        for name in told.get("earlier", ()):
            record = scenario(name)
            store.save(record)
            store.seal(record["id"], {"signer": record["technician"]["name"]})
        desk = Desk(Ledger(store, clock))
        walk = begin(desk, told)
        if is_service_call(walk):
            _search(walk, Call(told), clock)
        else:
            _walk(walk, told["checks"], told.get("before", {}), clock)
        _photograph(walk, told.get("photos", {}))
        changed = desk.trends(walk)
        report = finish(
            store,
            walk,
            Path(folder) / KEYS,
            strokes=told["strokes"],
            decision=Decision(told["decision"]),
            witness=Witness.model_validate(told["witness"], strict=False),
            pin=told["pin"],
            now=clock,
            progress=lambda _part, _text: None,
            trends=changed,
            again=desk.reinspections(walk),
        )
        return Walked(walk.visit, walk.assessment, changed, report.path.read_bytes())


def begin(desk: Desk, told: Scenario) -> Walk:
    """Begin a scenario's visit by its forms."""
    desk.set(technician=Person.model_validate(told["technician"]))
    _fill(desk, forms.BEGIN, told["begin"])
    _fill(desk, forms.POINT, told["point"])
    return desk.begin_visit(is_invented=True)


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


def _walk(walk: Walk, said: Said, before: Mapping[str, str], clock: ScenarioClock) -> None:
    """Do what the walk asks for next, until it asks for nothing more.

    ``before`` names what is made before a check of the same state: inside one, any order holds.
    """
    while (step := walk.next_step) is not None:
        if isinstance(step, Step):
            _make(walk, _chosen(walk, step, before), said, clock)
        else:
            walk.enter_state(step)
    for left in walk.steps:
        if not left.is_done and "not_done" in said.get(left.row.check, {}):
            _leave_out(walk, left.row.check, said[left.row.check])


def _search(walk: Walk, call: Call, clock: ScenarioClock) -> None:
    """Follow a service call's thread to the decision."""
    while (deed := call.next(walk)) is not None:
        do(walk, deed, clock)


def do(walk: Walk, deed: Deed | CircuitState, clock: ScenarioClock) -> None:
    """Make a check with what is found by it, or bring the circuit into a state."""
    if isinstance(deed, CircuitState):
        walk.enter_state(deed)
        return
    walk.begin(deed.check, after_mending=deed.is_repeat)
    _answer_all(walk, deed.check, deed.found, clock)


def _photograph(walk: Walk, photos: Mapping[str, Sequence[Mapping[str, Any]]]) -> None:
    """Put photos, with the marks that point at the evidence, to checks that are made."""
    for check, taken in photos.items():
        entry = next(e for e in reversed(walk.visit.entries) if e.check == check)
        key = photos_key(entry, is_made=True)
        for each in taken:
            name = walk.store_photo(asset(each["file"]))
            walk.attach_photo(name, key)
            marks = tuple(Mark.model_validate(m, strict=False) for m in each["marks"])
            walk.mark_photo(name, marks, key)


def _chosen(walk: Walk, step: Step, before: Mapping[str, str]) -> str:
    """Return the check to make: the next, or what the scenario makes before it."""
    is_open = {s.row.check for s in walk.steps if not (s.is_done or s.shut_because)}
    first = before.get(step.row.check, "")
    return first if first in is_open else step.row.check


def _leave_out(walk: Walk, check: str, said: Found) -> None:
    reason = NotDoneReason(str(said["not_done"]))
    walk.leave_out(reason, str(said.get("text", "")), check_id=check)


def _told(said: Mapping[str, Any], check: str) -> Any:
    if check not in said:
        raise WalkError(
            "the scenario does not say what is found", where=check, remedy="Add it to the scenario"
        )
    return said[check]


def _make(walk: Walk, check: str, said: Said, clock: ScenarioClock) -> None:
    found = _told(said, check)
    if "not_done" not in found:
        walk.begin(check)
    _answer_all(walk, check, found, clock)


def _answer_all(walk: Walk, check: str, found: Found, clock: ScenarioClock) -> None:
    """Answer the open check to its end, or leave it out."""
    if "not_done" in found:
        _leave_out(walk, check, found)
        return
    walk.acknowledge()
    clock.at += timedelta(minutes=float(str(found.get("wait_min", 0))))
    while walk.questions is not None and (asked := walk.questions.current) is not None:
        if isinstance(asked, Series):
            with clock.standing():
                _measure(walk, found, clock)
        elif asked.name in found:
            _answer(walk, asked, str(found[asked.name]))
        else:
            walk.pass_over()
            _must_have_moved(walk, check, asked)
    if "note" in found:
        walk.note(str(found["note"]))
    walk.commit()


def _measure(walk: Walk, found: Found, clock: ScenarioClock) -> None:
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
