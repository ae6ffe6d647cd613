"""Every screen in its main states: ``python -m tests.gallery FOLDER [ONLY [TEXT_SCALE]]``."""

import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from functools import cache
from io import BytesIO
from math import exp
from pathlib import Path

from PIL import Image, ImageDraw

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from checks.check import CircuitState, Series  # isort: skip
from checks.record import Decision, Mark, MarkShape, NotDoneReason, Person, SignOff
from fieldapp.app import FieldApp
from fieldapp.store.visits import Store
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk
from fieldapp.walk.measuring import readings_of
from fieldapp.walk.thread import Stage, thread
from fieldapp.walk.visit import Walk
from fieldapp.widgets import theme
from tests.fakes.device import FakeDevice
from tests.ui.answers import plausible
from tests.ui.hand import Hand
from tests.unit.test_trends import seen

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
    "charger.nameplate.rated_v": "120",
    "outlet.burn_pattern.place": "none",
    "surroundings.circumstances.is_with_other_loads": "yes",
    "run.dedicated.is_alone": "no",
    "run.dedicated.what": "kettle",
    "run.dedicated.other_a": "12.5",
    "surroundings.repair.outcome": "mended",
    "surroundings.repair.done": "Kettle moved to the kitchen circuit",
}


@contextmanager
def desk_in(folder: Path) -> Iterator[Desk]:
    """A desk over a folder, closed again so that the app can have it."""
    store = Store(folder)
    try:
        yield Desk(store, FakeDevice(folder).now)
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
        else:
            walk.pass_over()
    walk.commit()


# -- the states of the screens: each leaves a folder whose app comes up there ----------------------
State = Callable[[Desk], None]
BASES: dict[str, str] = {}


def after(base: State) -> Callable[[State], State]:
    """Begin a state where another one ends."""

    def based(state: State) -> State:
        BASES[state.__name__] = base.__name__
        return state

    return based


def empty(desk: Desk) -> None:
    """Nothing yet."""


def visits(desk: Desk) -> None:
    sound = begin(desk, is_invented=False, site="Invented depot, row of six")
    walk_to(sound, "breaker.rating")
    wrong = begin(desk, kind="service call", site="Invented house with a long name, rear garage")
    walk_to(wrong, "dead and proved", {"panel.condition.has_heat_marks": "yes"})
    begin(desk, kind="site record", role="inspects", site="Invented garage")
    (desk.store._visits / "v-broken.json").write_text("{")
    desk.go("visits")


def form(desk: Desk) -> None:
    desk.set(technician=Person(name="Pat Example"))
    desk.answer_form(desk.form(forms.BEGIN), "commissioning")
    desk.go("form", of=forms.BEGIN.id)


@after(form)
def form_words(desk: Desk) -> None:
    asked = desk.answer_form(desk.form(forms.BEGIN), "installs")
    desk.keep_form(asked.typing("site", "Invented garage, 12 Exam"))


def path(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "energised", WRONG | {"panel.condition.has_heat_marks": "no"})
    desk.go("path", walk.visit.id)


@after(path)
def station(desk: Desk) -> None:
    desk.go("station", desk.position.visit, "outlet")


def state_refused(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "breaker.lock_and_tag")
    desk.go("state", walk.visit.id, "energised")


def state_caution(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "dead and proved")
    desk.go("state", walk.visit.id, "dead and proved")


def state_told(desk: Desk) -> None:
    """Who opens nothing is asked whether a charge may be started."""
    walk = begin(desk, role="inspects")
    walk_to(walk, "under load")
    desk.go("state", walk.visit.id, "under load")


def form_code(desk: Desk) -> None:
    for value in ("commissioning", "installs", "Invented garage"):
        desk.answer_form(desk.form(forms.BEGIN), value)
    desk.keep_form(desk.form(forms.BEGIN).passed_over())
    desk.answer_form(desk.form(forms.BEGIN), "dwelling")
    desk.go("form", of=forms.BEGIN.id)


@after(state_caution)
def about_shut(desk: Desk) -> None:
    desk.go("about", desk.position.visit, "run.insulation")


def state_load_off(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "under load")
    walk.enter_state(CircuitState.UNDER_LOAD)
    desk.go("path", walk.visit.id)


def caution(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "run.insulation")
    desk.go("check", walk.visit.id, "run.insulation")


def number(desk: Desk) -> None:
    """Before anything is typed."""
    walk = begin(desk)
    walk_to(walk, "run.insulation")
    make(walk, "run.insulation", {}, "line_ground")
    desk.go("check", walk.visit.id, "run.insulation")


@after(number)
def number_typed(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    walk.typing("0.98", unit="MΩ")


def number_signed(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "charger.pilot_voltage")
    make(walk, "charger.pilot_voltage", {}, "negative")
    walk.typing("-11.7", unit="V")
    desk.go("check", walk.visit.id, "charger.pilot_voltage")


def drop(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "outlet.loaded_voltage")
    make(walk, "outlet.loaded_voltage", {}, "outlet_loaded")
    walk.typing("233.6", unit="V")
    desk.go("check", walk.visit.id, "outlet.loaded_voltage")


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
    desk.go("check", walk.visit.id, "outlet.temperature")


def measuring_due(desk: Desk) -> None:
    """The last readings were taken minutes ago."""
    _measuring(desk, "08:40:00", 12)


def measuring_wait(desk: Desk) -> None:
    _measuring(desk, "08:47:10", 12)


def measuring_settled(desk: Desk) -> None:
    _measuring(desk, "08:29:10", 30)


def choice(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "outlet.configuration")
    walk.begin("outlet.configuration")
    walk.acknowledge()
    desk.go("check", walk.visit.id, "outlet.configuration")


def yes_no(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "panel.condition")
    walk.begin("panel.condition")
    walk.acknowledge()
    desk.go("check", walk.visit.id, "panel.condition")


def no_instrument(desk: Desk) -> None:
    desk.set(instruments=())
    walk = begin(desk)
    walk_to(walk, "panel.working_space")
    make(walk, "panel.working_space", {}, "depth")
    desk.go("check", walk.visit.id, "panel.working_space")


@after(path)
def kit(desk: Desk) -> None:
    desk.go("kit", desk.position.visit, "visit")


@after(path)
def instrument_of_visit(desk: Desk) -> None:
    desk.go("instrument", desk.position.visit, "visit@multimeter")


@after(number)
def about(desk: Desk) -> None:
    desk.go("about", desk.position.visit, "run.insulation")


def _photo(walk: Walk, key: str, tall: bool = False, turn: int = 0) -> str:
    """Draw an invented receptacle and attach it."""
    size = (1200, 1600) if tall else (1600, 1200)
    image = Image.new("RGB", size, "#7d8a84")
    draw = ImageDraw.Draw(image)
    x, y = size[0] // 2, size[1] // 2
    draw.rounded_rectangle((x - 400, y - 400, x + 400, y + 400), 60, "#e9e4d6", "#333333", 10)
    draw.ellipse((x - 260, y - 260, x + 260, y + 260), "#4c4740")
    for dx in (-130, 90):
        draw.rectangle((x + dx, y - 110, x + dx + 40, y + 110), "#b98b4f")
    draw.ellipse((x + 60 + turn, y - 150, x + 190 + turn, y - 10), "#2b1709")
    draw.text((x - 330, y + 300), "INVENTED", "#333333", font_size=70)
    out = BytesIO()
    image.save(out, "JPEG")
    taken = walk._store.add_photo(walk.visit.id, out.getvalue())
    walk.attach_photo(taken, key)
    return taken


@after(choice)
def photos_empty(desk: Desk) -> None:
    desk.go("photos", desk.position.visit, "outlet.configuration@c1")


@after(number)
def photos_empty_live(desk: Desk) -> None:
    """Measured where something is open: the warning comes first."""
    desk.go("photos", desk.position.visit, "run.insulation@c1")


@after(photos_empty)
def photos(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    for turn in range(3):
        _photo(walk, desk.position.of, tall=turn == 1, turn=turn)


@after(photos)
def photos_marked(desk: Desk) -> None:
    walk, of = desk.open(desk.position.visit), desk.position.of
    first, second, _ = (p.name for p in walk.photos(of))
    spot = Mark(shape=MarkShape.CIRCLE, x=5800, y=3250, from_x=6800, from_y=3250)
    walk.mark_photo(first, spot, of)
    head = Mark(shape=MarkShape.ARROW, x=6000, y=5900, from_x=8600, from_y=3600)
    walk.mark_photo(second, head, of)


@after(photos_marked)
def mark(desk: Desk) -> None:
    of = desk.position.of
    name = desk.open(desk.position.visit).photos(of)[0].name
    desk.go("mark", desk.position.visit, f"{of}/{name}")


@after(photos_marked)
def choice_photos(desk: Desk) -> None:
    desk.go("check", desk.position.visit, "outlet.configuration")


@after(photos_marked)
def result_photos(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    make(walk, "outlet.configuration", WRONG)
    desk.go("result", walk.visit.id, "outlet.configuration@c1")


@after(number)
def note(desk: Desk) -> None:
    desk.go("note", desk.position.visit, "run.insulation")


@after(number)
def leave_out(desk: Desk) -> None:
    desk.go("leave_out", desk.position.visit, "run.insulation")


def _result(desk: Desk, check: str, subject: str = "c1") -> None:
    walk = begin(desk)
    walk_to(walk, check)
    make(walk, check, WRONG)
    desk.go("result", walk.visit.id, f"{check}@{subject}")


def result_within(desk: Desk) -> None:
    _result(desk, "run.protective_conductor")


def result_outside(desk: Desk) -> None:
    _result(desk, "outlet.configuration")


def result_joint(desk: Desk) -> None:
    """A load test that finds a joint on one leg."""
    walk = begin(desk)
    walk_to(walk, "outlet.loaded_voltage")
    make(walk, "outlet.loaded_voltage", {f"outlet.loaded_voltage.{k}": v for k, v in JOINT.items()})
    desk.go("result", walk.visit.id, "outlet.loaded_voltage@c1")


def result_danger(desk: Desk) -> None:
    _result(desk, "panel.condition", "p1")


def result_left_out(desk: Desk) -> None:
    walk = begin(desk)
    walk_to(walk, "run.length")
    walk.begin("run.length")
    walk.leave_out(NotDoneReason.NO_ACCESS, "Closed wall")
    desk.go("result", walk.visit.id, "run.length@c1")


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


def causes_empty(desk: Desk) -> None:
    walk = begin(desk, **SERVICE)
    desk.go("causes", walk.visit.id)


@after(causes_empty)
def causes_open(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    for check in ("charger.behavior", "breaker.trip_history", "surroundings.circumstances"):
        make(walk, check, KETTLE)


@after(causes_open)
def causes_proven(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    for plate in ("breaker.rating", "charger.nameplate", "charger.configuration"):
        make(walk, plate, KETTLE)
    follow(walk, KETTLE, Stage.REPAIR)


@after(causes_proven)
def station_causes(desk: Desk) -> None:
    desk.go("station", desk.position.visit, "run")


@after(causes_proven)
def causes_repeated(desk: Desk) -> None:
    walk = desk.open(desk.position.visit)
    follow(walk, KETTLE | {"run.dedicated.is_alone": "yes"}, Stage.DECIDE)


@after(causes_repeated)
def result_repeated(desk: Desk) -> None:
    desk.go("result", desk.position.visit, "run.dedicated@c1")


@after(causes_repeated)
def sign_off_repeated(desk: Desk) -> None:
    desk.go("sign_off", desk.position.visit)


@after(path)
def findings(desk: Desk) -> None:
    desk.go("findings", desk.position.visit)


def trends(desk: Desk) -> None:
    """Two signed visits before this one, and a grip that falls from each to the next."""
    made = [seen(2023, "4.00"), seen(2024, "3.00"), seen(2025, "2.00")]
    for each in made:
        desk.store.save(each.visit.model_dump(mode="json"))
    for each in made[:-1]:
        desk.store.seal(each.visit.id, {"by": "an invented technician"})
    desk.go("trends", made[-1].visit.id, made[-1].visit.points[0].id)


@after(path)
def points(desk: Desk) -> None:
    desk.go("points", desk.position.visit)


@after(path)
def sign_off(desk: Desk) -> None:
    desk.go("sign_off", desk.position.visit)


@after(path)
def signature(desk: Desk) -> None:
    for value in ("keep out of service", "Sam Sample"):
        desk.answer_form(desk.form(forms.SIGN_OFF), value)
    desk.go("signature", desk.position.visit)


@after(path)
def report(desk: Desk) -> None:
    """Signed: open it, share it, keep a copy."""
    walk = desk.open(desk.position.visit)
    walk.sign_off(SignOff(at=walk.visit.started, decision=Decision.KEEP_OUT, strokes=(((0, 0),),)))
    desk.store.seal(walk.visit.id, {"by": "an invented technician"}, report=b"%PDF-")
    desk.go("report", walk.visit.id)


def settings(desk: Desk) -> None:
    desk.set(technician=Person(name="Pat Example", license_number="EL-0000"))
    desk.go("settings")


def instrument(desk: Desk) -> None:
    desk.go("instrument", of="multimeter")


STATES: dict[str, State] = {
    f.__name__: f
    for f in (
        empty,
        visits,
        form,
        form_words,
        form_code,
        path,
        station,
        state_refused,
        state_caution,
        state_told,
        state_load_off,
        caution,
        number,
        number_typed,
        number_signed,
        drop,
        measuring_due,
        measuring_wait,
        measuring_settled,
        choice,
        yes_no,
        no_instrument,
        about,
        about_shut,
        photos_empty,
        photos_empty_live,
        photos,
        photos_marked,
        mark,
        choice_photos,
        result_photos,
        note,
        leave_out,
        result_within,
        result_outside,
        result_joint,
        result_danger,
        result_left_out,
        findings,
        causes_empty,
        causes_open,
        causes_proven,
        causes_repeated,
        station_causes,
        result_repeated,
        sign_off_repeated,
        points,
        trends,
        kit,
        instrument_of_visit,
        sign_off,
        signature,
        report,
        settings,
        instrument,
    )
}


_STAGED = tempfile.TemporaryDirectory()


def stage(name: str, folder: Path) -> None:
    """Lay the folder ready for one state."""
    shutil.copytree(_staged(name), folder, dirs_exist_ok=True)


@cache
def _staged(name: str) -> Path:
    """Walk to a state once a process."""
    folder = Path(_STAGED.name) / name
    if name in BASES:
        stage(BASES[name], folder)
    with desk_in(folder) as desk:
        STATES[name](desk)
    return folder


# -- what only a touch brings up ------------------------------------------------------------------
def slip(ui: Ui) -> None:
    """A slip of the finger is questioned."""
    ui.pad("2395")
    Hand(ui).press_main()


def danger(ui: Ui) -> None:
    """A danger interrupts."""
    ui.tap_text("Yes")


def stays_on(ui: Ui) -> None:
    """A danger that cannot be switched off."""
    ui.tap_text("Yes")
    ui.tap_text("It cannot be switched off")


def claim_told(ui: Ui) -> None:
    """The claim of who was told, its cautions read."""
    Hand(ui).press_main()
    Hand(ui).press_main()


def load_back(ui: Ui) -> None:
    """The load is taken back."""
    ui.tap_text("Undo: circuit under load")


def shut(ui: Ui) -> None:
    """A check that may not be made now."""
    ui.tap_text("Insulation")


def pin(ui: Ui) -> None:
    """The PIN, after the signature."""
    pad = next(w for w in ui.all() if type(w).__name__ == "SignaturePad")
    x, y = pad.to_window(pad.x, pad.top)
    ui.drag([(x + 40 + 12 * i, y - 60 - 25 * (i % 2)) for i in range(12)])
    ui.tap_text("Go on")
    ui.pad("0123")


TOUCHED: dict[str, tuple[str, Callable[[Ui], None]]] = {
    "slip": ("drop_empty", slip),
    "danger": ("yes_no", danger),
    "stays_on": ("yes_no", stays_on),
    "claim_told": ("state_told", claim_told),
    "load_back": ("state_load_off", load_back),
    "shut": ("station_run", shut),
    "pin": ("signature", pin),
}


@after(drop)
def drop_empty(desk: Desk) -> None:
    desk.open(desk.position.visit).typing("", unit="V")


@after(state_caution)
def station_run(desk: Desk) -> None:
    desk.go("station", desk.position.visit, "run")


STATES["drop_empty"] = drop_empty
STATES["station_run"] = station_run


def main(folder: Path, only: str = "", text_scale: str = "1") -> None:
    """Draw states × sizes × themes into a folder, with the text that much larger."""
    folder.mkdir(parents=True, exist_ok=True)
    for name in (*STATES, *TOUCHED):
        state, touch = TOUCHED.get(name, (name, None))
        with tempfile.TemporaryDirectory() as kept:
            for size, pixels in SIZES.items():
                for palette in ("day", "night", "outdoor"):
                    shot = f"{name}-{size}-{palette}"
                    if only in shot and (palette == "day" or size == "small"):
                        shutil.rmtree(kept)
                        stage(state, Path(kept))
                        with window(pixels):
                            set_look(Path(kept), palette, float(text_scale))
                            _shoot(Path(kept), touch, folder / f"{shot}.png")


def set_look(data: Path, palette: str, text_scale: float) -> None:
    """Set how the app over a folder comes up."""
    with desk_in(data) as desk:
        desk.set(theme=palette, text_scale=text_scale)


def _shoot(data: Path, touch: Callable[[Ui], None] | None, file: Path) -> None:
    ui = Ui(FieldApp(data, FakeDevice(data)))
    ui.settle()
    if touch is not None:
        touch(ui)
    ui.settle()
    ui.pixels().save(file)
    ui.close()
    theme.name, theme.text_scale = "day", 1.0


if __name__ == "__main__":
    main(Path(sys.argv[1]), *sys.argv[2:])
