"""The signature, the PIN of the signing key, and the making of the report."""

from typing import Any

from kivy.clock import Clock
from kivy.uix.widget import Widget

from checks.errors import ChecksError
from checks.record import Decision
from fieldapp.screens.job import Job
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import trouble
from fieldapp.walk import forms
from fieldapp.walk.desk import NotReadyError
from fieldapp.walk.finish import FinishedReport, finish, has_key
from fieldapp.walk.numbers import BACK
from fieldapp.widgets import Card, NumberPad, SignaturePad, Words, WorkBar

PIN_LEAST, PIN_MOST = 6, 12
_PAD_UNITS = 10_000  # the record keeps strokes in this many parts of the pad's width


def pin_key(text: str, key: str) -> str:
    """Return the PIN after one key; it is no number: a leading zero counts."""
    if key == BACK:
        return text[:-1]
    return (text + key)[:PIN_MOST] if key.isdigit() else text


class SignatureScreen(Screen):
    """Drawn first, then the PIN, then the work; nothing of it is kept but in the report."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._strokes: list[list[tuple[float, float]]] = []
        self._first_pin = ""
        self._job: Job[FinishedReport] | None = None

    def enter(self, of: str) -> None:
        """Begin with an empty pad."""
        self._strokes, self._first_pin = [], ""
        super().enter(of)

    def up(self) -> None:
        """Go back to the sign-off, unless the report is being made."""
        if self._job is None:
            self.guide.go("sign_off")

    def fill(self) -> None:
        """Ask for the signature."""
        walk = self.walk
        entry = self.guide.desk.form(forms.SIGN_OFF).entry
        self._decision, self._witness = forms.said(entry, "decision"), forms.said(entry, "witness")
        if not self._decision:
            self.guide.go("sign_off")
            return
        self.title, self.subtitle, self.progress = "Signature", walk.visit.technician.name, 0.2
        self._pad = SignaturePad()
        on = main_key("Go on", self._signed, disabled=True)
        self._pad.bind(strokes=lambda _, strokes: setattr(on, "disabled", not strokes))
        license = walk.visit.technician.license_number
        lines = [f"You decide: {self._decision}.", f"License {license}" if license else ""]
        self.put(
            body=[Words(text=line, role="lead") for line in lines if line],
            dock=(self._pad,),
            actions=(key("Go back", self.up), on),
        )

    def _signed(self) -> None:
        self._strokes = [list(stroke) for stroke in self._pad.strokes]
        self._ask_pin()

    # -- the PIN ---------------------------------------------------------------------------------
    def _ask_pin(self) -> None:
        is_new = not has_key(self.guide.keys_dir)
        self.title, self.progress = "PIN of your key", 0.5
        if is_new:
            self.title = "Type the PIN again" if self._first_pin else "Choose a PIN"
        self._pin = NumberPad(pin_key, has_point=False)
        dots = Words(text="", role="value", strong=True, halign="center")
        shown = Card()
        shown.add_widget(Words(text=f"{PIN_LEAST} to {PIN_MOST} digits", strong=True))
        shown.add_widget(dots)
        on = main_key("Sign the report", self._pin_typed, disabled=True)

        def typed(_: NumberPad, text: str) -> None:
            dots.text = "•" * len(text)
            on.disabled = len(text) < PIN_LEAST

        self._pin.bind(text=typed)
        self.put(
            body=_pin_words(is_new=is_new),
            readout=(shown,),
            dock=(self._pin,),
            actions=(key("Go back", lambda: self.enter(self.of)), on),
        )

    def _pin_typed(self) -> None:
        pin = self._pin.text
        if has_key(self.guide.keys_dir):
            self._make(pin)
        elif not self._first_pin:
            self._first_pin = pin
            self._ask_pin()
        elif pin == self._first_pin:
            self._make(pin)
        else:
            self._first_pin = ""
            self._ask_pin()
            raise NotReadyError(
                "the two are not the same", where="PIN", remedy="Choose it again, twice the same"
            )

    # -- the work --------------------------------------------------------------------------------
    def _make(self, pin: str) -> None:
        walk, guide = self.walk, self.guide
        strokes = tuple(
            tuple((round(x * _PAD_UNITS), round(y * _PAD_UNITS)) for x, y in stroke)
            for stroke in self._strokes
        )
        decision, witness = Decision(self._decision), self._witness

        changed = guide.desk.trends(walk)

        def work(report: Any) -> FinishedReport:
            return finish(
                guide.desk.store,
                walk,
                guide.keys_dir,
                strokes=strokes,
                decision=decision,
                witness=witness,
                pin=pin,
                now=guide.device.now,
                progress=report,
                trends=changed,
            )

        self._bar = WorkBar(text="Making the report")
        self.title, self.progress = "Making the report", 0.8
        self.put(
            body=(self._bar, Words(text="Everything you entered is on disk already.")),
            actions=(key("Cancel", self._cancel),),
        )
        self._job = Job(
            work,
            lambda do: Clock.schedule_once(lambda _: do()),
            progress=self._progress,
            done=self._done,
            failed=self._failed,
            cancelled=self._stopped,
        )
        self._job.start()

    def _cancel(self) -> None:
        if self._job is not None:
            self._bar.text = "Cancelling"
            self._job.cancel()

    def _progress(self, share: float, words: str) -> None:
        self._bar.fraction, self._bar.text = min(1.0, max(0.0, share)), words

    @guarded
    def _done(self, _: FinishedReport) -> None:
        self._job = None
        self.guide.desk.clear_form(forms.SIGN_OFF)
        self.guide.go("report")

    def _failed(self, error: Exception) -> None:
        self._job, self._first_pin = None, ""
        self._ask_pin()
        if not isinstance(error, ChecksError):
            raise error
        trouble(error)

    def _stopped(self) -> None:
        self._job, self._first_pin = None, ""
        self._ask_pin()


def _pin_words(*, is_new: bool) -> list[Widget]:
    if not is_new:
        return []
    text = (
        "Your signing key is made on this device now and kept under this PIN. Nobody can bring a "
        "lost PIN back. Keep it to yourself."
    )
    return [Words(text=text)]
