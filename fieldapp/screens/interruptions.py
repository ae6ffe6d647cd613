"""What interrupts a check: a doubtful number, a danger, a charge that may still run."""

from collections.abc import Callable
from typing import Any

from kivy.properties import BooleanProperty

from checks.record import DangerAnswer
from fieldapp.screens.sheets import Sheet, capital, nothing
from fieldapp.theme import LARGE_TEXT
from fieldapp.walk.numbers import Doubt
from fieldapp.walk.visit import Walk
from fieldapp.widgets import theme

SAFE_POINT = (
    "Stop. Switch the current off from a safe point: the vehicle, the charger, or a breaker where "
    "nothing is hot, burnt or wet; otherwise have the supply cut. Keep people away, and keep it "
    "off until it is mended."
)
AT_ONCE = "Stop. Cut the current from a safe point."
STAYS_ON = (
    "Touch nothing and try nothing. Keep everybody away, put up a barrier and stay outside it."
)
STAYS_ON_STILL = (
    "You said that it cannot be switched off. Stay away from it until who may cut the supply has "
    "cut it."
)
KEEP_OFF = "Stop. Keep it off; if current is on, switch it off from a safe point. Keep people away."
HELP = (
    "Call for help from where it is safe: the fire service on smoke, fire or a person hurt; the "
    "utility to have the supply cut. Stay until they are here, and let nobody near."
)
LOAD_BACK = (
    "Without load, checks with a hand on the coupler open. End the charge at the vehicle or the "
    "charger first, and read the current: it must be at zero."
)


def first_of_all(walk: Walk) -> str:
    """Say what comes first at a danger; who cannot switch it off is not told to."""
    return STAYS_ON_STILL if walk.stays_on and not walk.is_signed else KEEP_OFF


class DangerSheet(Sheet):
    """Takes the whole window: nothing else is seen until it is answered, by no back key.

    Who stands before smoke answers at once: no key waits until all was read.
    """

    is_gated = BooleanProperty(False)

    def __init__(self, title: str, **kwargs: Any) -> None:
        is_large = theme.text_scale >= LARGE_TEXT
        super().__init__("" if is_large else title, **kwargs)
        self.ids.actions.is_small = is_large

    def decline(self) -> None:
        """Stay, where there is nothing to go back to."""
        if self._on_decline is not self._on_accept:
            super().decline()


def doubtful(doubt: Doubt, typed: str, unit: str, take: Callable[[str], None]) -> None:
    """Ask about a hardly possible number; ``take`` gets the digits that were meant."""
    sheet = Sheet(
        doubt.question,
        words=("A slip of the finger, or really so?",),
        accept=("Type it again", nothing),
    )
    if doubt.suggestion:  # a guess is no strongest key
        sheet.add_key(f"{doubt.suggestion} {unit}", lambda: take(doubt.suggestion))
    sheet.add_key(f"{typed} {unit} is right", lambda: take(typed))
    sheet.open()


def danger(
    title: str,
    explanation: str,
    remedy: str,
    answered: Callable[[DangerAnswer], None],
    change: Callable[[], None],
) -> None:
    """Interrupt the work: a danger was found.

    ``answered`` gets what was answered; ``change`` asks once more for what was a slip of the
    finger, so that nobody has to say of a circuit what is not so to get back to it.
    """
    is_large = theme.text_scale >= LARGE_TEXT
    sheet = DangerSheet(
        title,
        cautions=[("danger", AT_ONCE if is_large else SAFE_POINT)],
        words=(*([SAFE_POINT] if is_large else []), explanation, remedy),
        accept=(capital(DangerAnswer.OFF), lambda: answered(DangerAnswer.OFF)),
    )

    def stays_on() -> None:
        DangerSheet(
            "It stays on",
            cautions=[("danger", STAYS_ON)],
            words=(HELP,),
            accept=("People are away, help is called", lambda: answered(DangerAnswer.STAYS_ON)),
            decline=("Go back", sheet.open),
        ).open()

    sheet.add_key("A slip: change the answer", change)
    sheet.add_key("It cannot be switched off", stays_on)
    sheet.open()


def load_back(go_on: Callable[[], None]) -> None:
    """Ask whether the charge has ended, before what needs no current opens."""
    Sheet(
        "Has the charge ended?",
        cautions=[("warning", LOAD_BACK)],
        accept=("Yes, current at zero", go_on),
        decline=("Go back", nothing),
    ).open()
