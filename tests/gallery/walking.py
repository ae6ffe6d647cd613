"""A visit walked without a screen: begun by its forms, made by plausible or other answers."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from checks.check import CircuitState, Series
from checks.record import DangerAnswer, Person
from fieldapp.store.visits import Store
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.measuring import readings_of
from fieldapp.walk.thread import Stage, thread
from fieldapp.walk.visit import Walk
from tests.fakes.device import FakeDevice
from tests.ui.answers import plausible

BEGIN = {
    "kind": "commissioning",
    "role": "installs",
    "site": "Invented garage, 12 Example Street",
    "occupancy": "dwelling",
    "code": "nec_2023",
    "system": "120/240 V single-phase",
    "panel": "Panel A",
    "is_service": "yes",
}
POINT = {
    "name": "Bay 1",
    "connection": "level 2 by receptacle",
    "connector": "SAE J1772",
    "inlet": "SAE J3400",
}
WRONG = {
    "adapter.seating.gap": "5.0",
    "outlet.configuration.kind": "14-30",
    "outlet.loaded_voltage.outlet_loaded": "229.8",
    "run.insulation.between": "0.90",
    "panel.condition.has_heat_marks": "yes",
}
JOINT = {
    "plan": "panel_legs",
    "outlet_no_load": "241.9",
    "l1_no_load": "121.0",
    "l2_no_load": "120.9",
    "panel_no_load": "241.9",
    "panel_l1_no_load": "121.0",
    "panel_l2_no_load": "120.9",
    "current": "39.6",
    "outlet_loaded": "233.6",
    "l1_loaded": "118.8",
    "l2_loaded": "114.8",
    "panel_loaded": "239.9",
    "panel_l1_loaded": "120.0",
    "panel_l2_loaded": "119.9",
    "outlet_again": "233.6",
}
SERVICE = {
    "kind": "service call",
    "role": "serves",
    "connection": "level 1 cord set",
}
KETTLE = {
    "outlet.ground_fault.device": "receptacle",
    "run.insulation.place": "outlet",
    "run.polarity.place": "closed",
    "run.protective_conductor.place": "closed",
    "breaker.rating.rated_a": "15",
    "breaker.rating.poles": "1",
    "breaker.trip_history.when": "minutes",
    "breaker.trip_history.kind": "overcurrent",
    "charger.configuration.configured_a": "12",
    "charger.behavior.start": "charges",
    "charger.behavior.stops": "no",
    "charger.nameplate.rated_a": "12",
    "charger.nameplate.volts": "120",
    "outlet.burn_pattern.place": "none",
    "surroundings.circumstances.is_with_other_loads": "yes",
    "run.dedicated.is_alone": "no",
    "run.dedicated.what": "kettle",
    "run.dedicated.other_a": "12.5",
    "surroundings.repair.outcome": "mended",
    "surroundings.repair.replaced": "none",
    "surroundings.repair.done": "Kettle moved to the kitchen circuit",
}


@contextmanager
def desk_in(folder: Path) -> Iterator[Desk]:
    """A desk over a folder, closed again so that the app can have it."""
    store = Store(folder)
    try:
        yield Desk(Ledger(store, FakeDevice(folder).now))
    finally:
        store.close()


def begin(desk: Desk, *, is_invented: bool = True, **over: str) -> Walk:
    """A visit begun by its two forms."""
    desk.set(technician=Person(name="Pat Example", license_number="EL-0000"))
    said = {**BEGIN, **POINT, **over}
    for form in (forms.BEGIN, forms.POINT):
        questions = desk.form(form)
        while questions.current is not None:
            value = said.get(questions.current.name, "")
            if value:
                questions = desk.answer_form(questions, value)
            else:
                questions = questions.passed_over()
                desk.keep_form(questions)
    return desk.begin_visit(is_invented=is_invented)


def walk_to(walk: Walk, until: str = "", answers: dict[str, str] | None = None) -> None:
    """Walk by the agenda until a check is next; with other answers than the plausible ones."""
    other = answers or {}
    while (step := walk.next_step) is not None:
        if isinstance(step, CircuitState):
            if step.value == until:
                return
            enter(walk, step)
            continue
        if step.row.check == until:
            return
        make(walk, step.row.check, other)


def enter(walk: Walk, state: CircuitState) -> None:
    """Bring the circuit into a state; who opens nothing is told so."""
    how = walk.switching(state)
    walk.enter_state(
        state,
        brought_by="Sam Sample, Example Electric" if how.whom else "",
        is_found=how.claims[0].is_found,
    )


def make(walk: Walk, check: str, other: dict[str, str], upto: str = "") -> None:
    """Make one check, or answer it up to one of its questions."""
    walk.begin(check)
    walk.acknowledge()
    while (asked := walk.questions.current) is not None:
        if asked.name == upto:
            return
        if isinstance(asked, Series) and readings_of(walk.questions.entry, asked.name):
            walk.end_series()
            continue
        value = other.get(f"{check}.{asked.name}") or plausible(check, asked)
        fit = walk.instruments_for(asked)
        if value:
            unit = getattr(asked, "units", ("",))[0]
            walk.answer(value, unit=unit, instrument=fit[0].id if fit else "", sure=True)
            if walk.awaits_danger is not None:
                walk.answer_danger(DangerAnswer.OFF)
        else:
            walk.pass_over()
    walk.commit()


def follow(walk: Walk, answers: dict[str, str], until: Stage) -> list[str]:
    """Do what a service call's thread asks for until a stage; return the checks made, in order."""
    made = []
    while (now := thread(walk)).stage is not until:
        if isinstance(now.next, CircuitState):
            enter(walk, now.next)
        else:
            assert now.next is not None, (now.stage, now.aim)
            check = now.next.row.check
            walk.begin(check, after_mending=now.is_repeat)
            make(walk, check, answers)
            made.append(check)
    return made
