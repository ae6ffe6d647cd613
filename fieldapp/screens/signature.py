"""The signature, the PIN of the signing key, and the making of the report."""

from collections.abc import Callable, Sequence
from typing import Any

from kivy.clock import Clock
from kivy.uix.widget import Widget

from checks.errors import ChecksError
from checks.record import Decision, Entry, Strokes, Unsigned, WitnessRole
from fieldapp.language import Said
from fieldapp.screens.job import Job
from fieldapp.screens.screen import Screen, guarded, key, main_key
from fieldapp.screens.sheets import trouble
from fieldapp.screens.standing import standing, told_aside
from fieldapp.walk import filled, forms
from fieldapp.walk.desk import NotReadyError
from fieldapp.walk.finish import FinishedReport, finish, has_key
from fieldapp.walk.numbers import BACK
from fieldapp.widgets import Card, NumberPad, SignaturePad, Words, WorkBar

TECHNICIAN, WITNESS = "technician", "witness"
PIN_LEAST, PIN_MOST = 6, 12
_PAD_UNITS = 10_000  # the record keeps strokes in this many parts of the pad's width

Drawn = list[list[tuple[float, float]]]  # strokes in shares of the pad's width


def _on_paper(drawn: Drawn) -> Strokes:
    """Return strokes as the record keeps them."""
    return tuple(
        tuple((round(x * _PAD_UNITS), round(y * _PAD_UNITS)) for x, y in stroke) for stroke in drawn
    )


def pin_key(text: str, key: str) -> str:
    """Return the PIN after one key; it is no number: a leading zero counts."""
    if key == BACK:
        return text[:-1]
    return (text + key)[:PIN_MOST] if key.isdigit() else text


class SignatureScreen(Screen):
    """Drawn first, then the PIN, then the work; nothing of it is kept but in the report."""

    def __init__(self, guide: Any) -> None:
        super().__init__(guide)
        self._drawn: dict[str, Drawn] = {}  # by whose name it is
        self._first_pin = ""
        self._job: Job[FinishedReport] | None = None

    def enter(self, of: str) -> None:
        """Begin with an empty pad."""
        self._drawn, self._first_pin = {}, ""
        super().enter(of)

    def up(self) -> None:
        """Go back to the sign-off, unless the report is being made."""
        if self._job is None:
            self.guide.go("sign_off")

    @property
    def _said(self) -> Entry:
        return self.guide.desk.form(forms.SIGN_OFF).entry

    def fill(self) -> None:
        """Ask for the technician's signature."""
        self._decision, self._first_pin = forms.said(self._said, "decision"), ""
        self._role = forms.said(self._said, "witness")
        if not self._decision or self._role not in (*WitnessRole, *Unsigned):
            self.guide.go("sign_off")
            return
        person = self.walk.visit.technician
        lines = [f"You decide: {self._decision}."]
        if person.license_number:
            lines.append(f"License {person.license_number}")
        told = [
            *standing(self.guide),
            *told_aside(self.walk),
            *(Words(text=line, role="lead") for line in lines),
        ]
        self.title, self.subtitle, self.progress = "Signature", Said(person.name), 0.2
        self._ask_hand(TECHNICIAN, told, back=self.up, then=self._after_technician)

    def _after_technician(self) -> None:
        if self._role in (*WitnessRole,):
            self._ask_witness()
        else:
            self._ask_pin()

    def _ask_witness(self) -> None:
        """Ask for the signature of who saw it, who is told first what it stands under."""
        name = forms.said(self._said, "name")
        self.title, self.subtitle, self.progress = "Signature of the witness", Said(name), 0.35
        findings = len(self.walk.assessment.findings)
        lines = [
            f"Findings: {findings}. Decision: {self._decision}.",
            "Your signature says that you were shown both. It approves no finding and takes over "
            "no work.",
        ]
        told = [Words(text=line, role="lead") for line in lines]
        no = key("Will not sign", self._refused)
        self._ask_hand(WITNESS, [*told, no], back=self.fill, then=self._ask_pin)

    def _refused(self) -> None:
        """Ask why, and sign anew: what is signed says so."""
        desk = self.guide.desk
        desk.answer_form(desk.form(forms.SIGN_OFF).go_to("witness"), Unsigned.REFUSED.value)
        self.guide.go("form", forms.SIGN_OFF.id)

    def _ask_hand(
        self,
        whose: str,
        told: Sequence[Widget],
        *,
        back: Callable[[], None],
        then: Callable[[], None],
    ) -> None:
        """Put a pad up, with what was drawn on it before a step back."""
        pad = SignaturePad()
        pad.strokes = self._drawn.get(whose, [])
        on = main_key("Go on", then, disabled=not pad.strokes)

        def drawn(_: SignaturePad, strokes: Drawn) -> None:
            self._drawn[whose] = [list(stroke) for stroke in strokes]
            on.disabled = not strokes

        pad.bind(strokes=drawn)
        self.put(
            body=told,
            dock=(pad,),
            actions=(key("Go back", back), on),
        )

    # -- the PIN ---------------------------------------------------------------------------------
    def _ask_pin(self) -> None:
        is_new = not has_key(self.guide.keys_dir)
        self.title, self.subtitle = "PIN of your key", Said(self.walk.visit.technician.name)
        self.progress = 0.5
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
            actions=(key("Go back", self.fill), on),
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
        decision = Decision(self._decision)
        witness = filled.witness(self._said, _on_paper(self._drawn.get(WITNESS, [])))
        strokes = _on_paper(self._drawn[TECHNICIAN])
        changed, again = guide.desk.trends(walk), guide.desk.reinspections(walk)

        def work(report: Any) -> FinishedReport:
            return finish(
                guide.ledger.store,
                walk,
                guide.keys_dir,
                strokes=strokes,
                decision=decision,
                witness=witness,
                pin=pin,
                now=guide.device.now,
                progress=report,
                trends=changed,
                again=again,
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
