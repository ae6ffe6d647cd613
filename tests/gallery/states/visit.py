"""The screens around a visit: before it, its path, its circuit's states, its end."""

from checks.check import CircuitState
from checks.record import Decision, NotDoneReason, Person, SignOff
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk
from tests.gallery.states.staging import after, state
from tests.gallery.walking import WRONG, begin, make, walk_to
from tests.unit.test_night import garage
from tests.unit.test_trends import seen


@state
def visits_empty(desk: Desk) -> None:
    """Nothing yet."""


@state
def visits(desk: Desk) -> None:
    sound = begin(desk, is_invented=False, site="Invented depot, row of six")
    walk_to(sound, "breaker.rating")
    wrong = begin(desk, kind="service call", site="Invented house with a long name, rear garage")
    walk_to(wrong, "dead and proved", {"panel.condition.has_heat_marks": "yes"})
    begin(desk, kind="site record", role="inspects", site="Invented garage")
    (desk.store._visits / "v-broken.json").write_text("{")
    desk.ledger.go("visits")


@state
def form(desk: Desk) -> None:
    desk.set(technician=Person(name="Pat Example"))
    desk.answer_form(desk.form(forms.BEGIN), "commissioning")
    desk.ledger.go("form", of=forms.BEGIN.id)


@after(form)
def form_words(desk: Desk) -> None:
    asked = desk.answer_form(desk.form(forms.BEGIN), "installs")
    desk.keep_form(asked.typing("site", "Invented garage, 12 Exam"))


@state
def form_code(desk: Desk) -> None:
    for value in ("commissioning", "installs", "Invented garage"):
        desk.answer_form(desk.form(forms.BEGIN), value)
    desk.keep_form(desk.form(forms.BEGIN).passed_over())
    desk.answer_form(desk.form(forms.BEGIN), "dwelling")
    desk.ledger.go("form", of=forms.BEGIN.id)


@state
def path(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "energised", WRONG | {"panel.condition.has_heat_marks": "no"})
    desk.ledger.go("path", walk.visit.id)


@after(path)
def station(desk: Desk) -> None:
    desk.ledger.go("station", desk.ledger.position.visit, "outlet")


@state
def state_refused(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "breaker.lock_and_tag")
    desk.ledger.go("state", walk.visit.id, "energised")


@state
def state_caution(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "dead and proved")
    desk.ledger.go("state", walk.visit.id, "dead and proved")


@state
def state_told(desk: Desk) -> None:
    """Who opens nothing is asked whether a charge may be started."""
    walk = begin(desk, role="inspects")
    walk_to(walk, "under load")
    desk.ledger.go("state", walk.visit.id, "under load")


@state
def state_load_off(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "under load")
    walk.enter_state(CircuitState.UNDER_LOAD)
    desk.ledger.go("path", walk.visit.id)


@after(state_caution)
def station_run(desk: Desk) -> None:
    desk.ledger.go("station", desk.ledger.position.visit, "run")


@after(path)
def findings(desk: Desk) -> None:
    desk.ledger.go("findings", desk.ledger.position.visit)


@after(path)
def work(desk: Desk) -> None:
    desk.ledger.go("work", desk.ledger.position.visit)


@after(path)
def points(desk: Desk) -> None:
    desk.ledger.go("points", desk.ledger.position.visit)


@after(path)
def installed(desk: Desk) -> None:
    """What the visit was begun with, one fact of it corrected."""
    walk = desk.open(desk.ledger.position.visit)
    walk.correct("permit@site", "P-0000")
    walk.correct(f"inlet@{walk.point_id}", "SAE J1772")
    desk.ledger.go("facts", walk.visit.id)


@after(path)
def installed_here(desk: Desk) -> None:
    """Of one station."""
    desk.ledger.go("facts", desk.ledger.position.visit, "charger")


@after(path)
def correct_choice(desk: Desk) -> None:
    desk.ledger.go("correct", desk.ledger.position.visit, "connection@c1@charger")


@after(path)
def correct_words(desk: Desk) -> None:
    visit = desk.ledger.position.visit
    kept = desk.form(forms.HALF_CORRECTED)
    desk.keep_form(kept.typing(f"{visit} permit@site", "P-00"))
    desk.ledger.go("correct", visit, "permit@site@")


@after(path)
def correct_panel(desk: Desk) -> None:
    desk.ledger.go("correct", desk.ledger.position.visit, "feeder@c1@")


@after(path)
def path_vehicle(desk: Desk) -> None:
    """A point that was taken over: the path asks for the vehicle first."""
    walk = desk.open(desk.ledger.position.visit)
    walk.go_to_point(walk.copy_point("c1"))
    desk.ledger.go("path", walk.visit.id)


@after(path_vehicle)
def correct_vehicle(desk: Desk) -> None:
    desk.ledger.go("correct", desk.ledger.position.visit, "inlet@c2")


@state
def trends(desk: Desk) -> None:
    """Two signed visits before this one, and a grip that falls from each to the next."""
    made = [seen(2023, "4.00"), seen(2024, "3.00"), seen(2025, "2.00")]
    for each in made:
        desk.store.save(each.visit.model_dump(mode="json"))
    for each in made[:-1]:
        desk.store.seal(each.visit.id, {"by": "an invented technician"})
    desk.ledger.go("trends", made[-1].visit.id, made[-1].visit.points[0].id)


@state
def trends_earlier(desk: Desk) -> None:
    """A signed visit with findings; on the return one was made again, one could not be reached."""
    first = begin(desk, site="Invented depot, row of six")
    walk_to(first, "energised", WRONG | {"panel.condition.has_heat_marks": "no"})
    desk.store.seal(first.visit.id, {"by": "an invented technician"})
    document = first.visit.model_dump(mode="json")
    started = "2026-06-02T09:00:00+00:00"
    fresh = {"entries": [], "states": [], "revision": 0, "signoff": None}
    desk.store.save({**document, **fresh, "id": "v-return", "started": started})
    walk = desk.open("v-return")
    faces = ("adapter.pins", "vehicle.inlet_condition")  # before the seat
    for check in ("breaker.rating", "outlet.configuration", "panel.condition", *faces):
        make(walk, check, {})
    walk.leave_out(NotDoneReason.NO_ACCESS, "van before it", check_id="run.insulation")
    desk.ledger.go("earlier", walk.visit.id)


@after(trends_earlier)
def result_earlier(desk: Desk) -> None:
    desk.ledger.go("result", "v-return", "run.insulation@c1")


@after(trends_earlier)
def sign_off_earlier(desk: Desk) -> None:
    desk.ledger.go("sign_off", "v-return")


@after(path)
def form_witness(desk: Desk) -> None:
    desk.answer_form(desk.form(forms.SIGN_OFF), "keep out of service")
    desk.ledger.go("form", desk.ledger.position.visit, forms.SIGN_OFF.id)


@after(path)
def kit(desk: Desk) -> None:
    desk.ledger.go("kit", desk.ledger.position.visit, "visit")


@after(path)
def instrument_of_visit(desk: Desk) -> None:
    desk.ledger.go("instrument", desk.ledger.position.visit, "visit@multimeter")


@after(path)
def sign_off(desk: Desk) -> None:
    desk.ledger.go("sign_off", desk.ledger.position.visit)


@after(path)
def signature(desk: Desk) -> None:
    for value in ("keep out of service", "owner's representative", "Sam Sample, caretaker"):
        desk.answer_form(desk.form(forms.SIGN_OFF), value)
    desk.ledger.go("signature", desk.ledger.position.visit)


@after(path)
def report(desk: Desk) -> None:
    """Signed: open it, share it, keep a copy."""
    walk = desk.open(desk.ledger.position.visit)
    walk.sign_off(SignOff(at=walk.visit.started, decision=Decision.KEEP_OUT, strokes=(((0, 0),),)))
    desk.store.seal(walk.visit.id, {"by": "an invented technician"}, report=b"%PDF-")
    desk.ledger.go("report", walk.visit.id)


@after(report)
def report_cards(desk: Desk) -> None:
    """What is left: the cards that the record carries, and those that it lacks."""
    desk.ledger.go("leave", desk.ledger.position.visit)


@state
def energy(desk: Desk) -> None:
    """Four chargers on one limit: what each gives, and how they share a night."""
    made = garage("16 A", "32 A", "48 A", "48 A", device_a="100 A", set_a="80 A")
    desk.store.save(made.model_dump(mode="json"))
    desk.ledger.go("energy", made.id)


@state
def energy_turns(desk: Desk) -> None:
    """Too little for all at once: they take turns."""
    made = garage(*["32 A"] * 6, set_a="16 A")
    desk.store.save(made.model_dump(mode="json"))
    desk.ledger.go("energy", made.id)


@after(path)
def energy_refused(desk: Desk) -> None:
    """Something grave was found: nothing is promised."""
    desk.ledger.go("energy", desk.ledger.position.visit)


@state
def settings(desk: Desk) -> None:
    desk.set(technician=Person(name="Pat Example", license_number="EL-0000"))
    desk.ledger.go("settings")


@state
def instrument(desk: Desk) -> None:
    desk.ledger.go("instrument", of="multimeter")
