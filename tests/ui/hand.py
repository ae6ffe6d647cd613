"""The hand that walks the app: answers by touches only, knows the question by the open walk."""

import time
from collections.abc import Callable

from checks.check import AnyInput, Choice, CircuitState, Measurement, Rating, Series, YesNo
from fieldapp.walk.desk import FORMS
from fieldapp.walk.measuring import readings_of
from fieldapp.widgets import CautionSheet, PrimaryButton, SceneView
from tests.ui.answers import plausible
from tests.ui.driver import TextInput, Ui, Window
from tests.ui.loop import SIZES

Answers = Callable[[str, AnyInput], str]


class Hand:
    """One person's hand on the glass."""

    def __init__(self, ui: Ui, answers: Answers = plausible) -> None:
        self.ui, self.answers = ui, answers

    @property
    def guide(self):
        return self.ui.app.guide

    @property
    def walk(self):
        return self.guide.walk

    @property
    def at(self) -> str:
        """Which screen is up."""
        return self.guide.ledger.position.screen

    # -- before the walk -------------------------------------------------------------------------
    def write(self, text: str, field: int = 0) -> None:
        """Write into a field of the page."""
        self.ui.tap(self.ui.all(TextInput, self.ui.top)[field])
        self.ui.type(text)

    def name_technician(self, name: str = "Pat Example") -> None:
        self.write(name)
        self.ui.tap_text("Go on to the new visit")

    def fill_form(self, form: str, **said: str) -> None:
        """Answer a form: an option's words, yes or no, or words to write; "" passes over."""
        check = FORMS[form]
        for asked in check.inputs:
            assert self.ui.sees(asked.label), (asked.label, self.ui.texts())
            self.answer_form(asked, said.get(asked.name, ""))

    def answer_form(self, asked: AnyInput, value: str) -> None:
        """Answer a form's question on the screen."""
        if isinstance(asked, Choice):
            self.ui.tap_text(next((o.words for o in asked.options if o.value == value), value))
        elif isinstance(asked, YesNo):
            self.ui.tap_text(value.capitalize())
        elif value:
            self.write(value)
            self.ui.tap_text("Next")
        else:
            self.ui.tap_text("Pass over")

    # -- what happens to the phone -----------------------------------------------------------------
    def turn(self, size: str) -> None:
        """Turn the phone, or move the app to another window."""
        Window.size = SIZES[size]
        self.ui.settle()

    def pause(self) -> None:
        """Take a call: the app goes to the back, and comes to the front again."""
        assert self.ui.app.dispatch("on_pause")
        self.ui.frames(2)
        self.ui.app.dispatch("on_resume")
        self.ui.frames(2)

    # -- the walk --------------------------------------------------------------------------------
    def main_key(self) -> PrimaryButton:
        """The main key of what lies on top."""
        keys = self.ui.all(PrimaryButton, self.ui.top)
        assert len(keys) == 1, self.ui.texts()
        return keys[0]

    def begin(self, **said: str) -> None:
        """From the empty list to the path of a new visit."""
        self.ui.tap_text("New visit")
        if self.at == "settings":
            self.name_technician()
        self.fill_form("handover.begin", **said)
        self.fill_form("handover.point", **said)
        assert self.at == "path", self.ui.texts()
        self.ui.taps.clear()  # `tests.benchmarks.taps` counts the walk

    @property
    def is_between(self) -> bool:
        """Whether no check is begun: on the path, at a result, or at a check's first question."""
        questions = self.walk.questions
        is_fresh = questions is not None and not questions.is_begun
        return self.at in ("path", "result") or (self.at == "check" and is_fresh)

    def to_path(self) -> None:
        """Go to the path, by its key or by the arrow back."""
        if self.at == "check":
            self.accept_cautions()
            self.ui.tap_text("Back")
        elif self.at != "path":
            self.ui.tap_text("Path")
        assert self.at == "path", self.ui.texts()

    def press_main(self) -> str:
        """Press the main key; return its words."""
        found = self.main_key()
        words = found.text
        self.ui.tap(found)
        return words

    def accept_cautions(self) -> None:
        """Read what lies over the page to its end, and acknowledge it."""
        while isinstance(self.ui.top, CautionSheet):
            sheet = self.ui.top
            sheet.ids.scroll.scroll_y = 0
            self.ui.frames(3)
            self.ui.tap(sheet.ids.accept)

    def answer(self, value: str | None = None) -> None:
        """Answer the question on the screen."""
        questions = self.walk.questions
        asked = questions.current
        if value is None:
            value = self.answers(questions.check.id, asked)
        if isinstance(asked, Series) and readings_of(questions.entry, asked.name):
            self.ui.tap_text("End measuring")
        elif isinstance(asked, Series) and value == "":
            self.ui.tap_text("There is none")
        elif value == "" and asked.optional:
            self.ui.tap_text("Pass over")
        elif isinstance(asked, Choice):
            words = next(o.words for o in asked.options if o.value == value)
            self.ui.tap_text(words)
        elif isinstance(asked, YesNo):
            self.ui.tap_text(asked.words(yes=value == "yes"))
        elif isinstance(asked, Measurement | Rating):
            self.number(value)
        else:
            self.write(value)
            self.ui.tap_text("Next")

    def number(self, value: str) -> None:
        """Type a number on the pad and take it."""
        self.ui.pad(value)
        self.press_main()

    def make_check(self) -> str:
        """Answer the open check to its end; return its id."""
        check = self.walk.questions.check.id
        self.accept_cautions()
        while self.walk.is_open(check):
            self.answer()
            if self.walk.questions is None or self.walk.is_open(check):
                self.accept_cautions()
        return check

    def bring_into_state(self) -> None:
        """Acknowledge the cautions of a state one by one, then claim it; name who it was."""
        while self.at == "state":
            if self.ui.all(TextInput, self.ui.top):
                self.write("Sam Sample, Example Electric")
            self.press_main()

    def say_vehicle(self, words: str = "SAE J1772") -> None:
        """Say which vehicle is at the point that is walked, where it is asked."""
        if self.at == "path":
            self.ui.tap_text("Say which vehicle is here")
        self.ui.tap_text(words)

    def walk_on(self, stop: Callable[[], bool] = lambda: False) -> None:
        """Follow the main key until only the sign-off is left.

        Where something grave was found it leads to the work in order: the walk goes round that.
        """
        while not stop():
            if self.at == "check":
                self.make_check()
            elif self.at == "state":
                self.bring_into_state()
            elif self.at == "correct":
                self.say_vehicle()
            elif self.at in ("path", "result"):
                key = self.main_key().text
                if key == "Sign off" or (key == "Work to do" and not self._goes_round()):
                    return
                if key != "Work to do":
                    self.press_main()
            else:
                raise AssertionError(self.at)

    def _goes_round(self) -> bool:
        """Go on to what is next in spite of what was found; False where nothing is."""
        coming, other = self.walk.next_step, self.walk.next_point
        if coming is None and other is None:
            return False
        self.to_path()
        if isinstance(coming, CircuitState):
            self.ui.tap_text(self.walk.switching(coming).title)
        else:
            self.ui.tap_text(f"Next: {coming.row.title if coming else other.name}")
        return True

    def to_sign_off(self) -> None:
        """Go to the sign-off, by the main key or beside it."""
        self.to_path()
        if self.main_key().text == "Sign off":
            self.press_main()
        else:
            self.ui.tap_text("Sign off now")

    def station(self, name: str) -> None:
        """Touch a station of the diagram on the path."""
        view = next(w for w in self.ui.all(SceneView) if w.scene and w.scene.hits)
        self.ui.tap_hit(view, name)

    def wait_report(self, seconds: float = 90) -> None:
        """Let the thread that makes the report come to its end; it knows no fake clock."""
        until = time.monotonic() + seconds
        while self.at != "report":
            assert time.monotonic() < until, self.ui.texts()
            self.ui.frames()
            time.sleep(0.01)
        self.ui.settle()

    def draw(self) -> None:
        """Draw a zigzag on the pad."""
        pad = next(w for w in self.ui.all() if type(w).__name__ == "SignaturePad")
        x, y = pad.to_window(pad.x, pad.top)
        self.ui.drag([(x + 40 + 12 * i, y - 60 - 25 * (i % 2)) for i in range(12)])

    def sign(self, pin: str, decision: str, *, is_new_key: bool = True, **witness: str) -> None:
        """From the sign-off to the signed report; nobody is there for the owner unless said."""
        ui = self.ui
        ui.tap_text("Decide and sign")
        said = witness or {"witness": "nobody was there for the owner", "why": "Owner at work"}
        check = FORMS["handover.sign_off"]
        ui.tap_text(decision)
        if ui.sees("in spite of this?"):  # what is not proved was named: the person decides
            ui.top.ids.scroll.scroll_y = 0
            ui.frames(3)
            ui.tap_text("Return it in spite of this")
        for asked in check.inputs[1:]:
            if self.at == "form" and ui.sees(asked.label):
                self.answer_form(asked, said.get(asked.name, ""))
        self.draw()
        ui.tap_text("Go on")
        if ui.sees("Signature of the witness"):
            self.draw()
            ui.tap_text("Go on")
        for _ in range(2 if is_new_key else 1):
            ui.pad(pin)
            ui.tap_text("Sign the report")
        self.wait_report()
