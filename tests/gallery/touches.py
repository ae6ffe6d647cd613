"""What only a touch brings up: a sheet, a claim, a PIN."""

from collections.abc import Callable

from tests.ui.driver import Ui
from tests.ui.hand import Hand


def slip(ui: Ui) -> None:
    """A slip of the finger is questioned."""
    ui.pad("2395")
    Hand(ui).press_main()


def danger(ui: Ui) -> None:
    """A danger interrupts."""
    ui.tap_text("Seen")


def stays_on(ui: Ui) -> None:
    """A danger that cannot be switched off."""
    ui.tap_text("Seen")
    ui.tap_text("It cannot be switched off")


def refused(ui: Ui) -> None:
    """An error in words: a visit that cannot be read."""
    ui.tap_text("Needs attention")


def undo(ui: Ui) -> None:
    """Something was taken back, and can be had again."""
    ui.tap_text("Delete")


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


def witness(ui: Ui) -> None:
    """The witness's signature, after the technician's."""
    Hand(ui).draw()
    ui.tap_text("Go on")
    Hand(ui).draw()


def pin(ui: Ui) -> None:
    """The PIN, after both signatures."""
    witness(ui)
    ui.tap_text("Go on")
    ui.pad("0123")


def in_spite(ui: Ui) -> None:
    """Something grave is to be returned to service, and it is asked again."""
    ui.tap_text("Decide and sign")
    ui.tap_text("Return to service")


def hangs(ui: Ui) -> None:
    """What hangs on a correction is told before it is made."""
    ui.tap_text("Level 1, cord set")


def straight_on(ui: Ui) -> None:
    """A check is within, and the next one is asked."""
    hand = Hand(ui)
    hand.make_check()
    hand.accept_cautions()


TOUCHED: dict[str, tuple[str, Callable[[Ui], None]]] = {
    "slip": ("drop_empty", slip),
    "danger": ("yes_no", danger),
    "stays_on": ("yes_no", stays_on),
    "refused": ("visits", refused),
    "undo": ("photos", undo),
    "claim_told": ("state_told", claim_told),
    "load_back": ("state_load_off", load_back),
    "on_to_choice": ("yes_no", straight_on),
    "on_to_number": ("choice_surge", straight_on),
    "on_to_path": ("choice_torque", straight_on),
    "on_to_causes": ("choice_dedicated", straight_on),
    "shut": ("station_run", shut),
    "witness": ("signature", witness),
    "pin": ("signature", pin),
    "in_spite": ("sign_off", in_spite),
    "hangs": ("correct_choice", hangs),
}
