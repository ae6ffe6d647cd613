"""Every screen in every state: large enough for gloves, apart, nothing cut, nothing faint."""

from pathlib import Path

import pytest

from tests.ui.driver import SIZES, Ui, window  # before Kivy: it chooses the window

from fieldapp.app import FieldApp  # isort: skip
from fieldapp.theme import MAX_TEXT_SCALE, PALETTES
from fieldapp.widgets import PrimaryButton, theme
from tests.fakes.device import FakeDevice
from tests.gallery.states import STATES, set_look, stage
from tests.gallery.touches import TOUCHED
from tests.ui.contrast import faint_texts
from tests.ui.geometry import faults, small_main_keys
from tests.ui.pairs import Look, pairwise
from tests.ui.specimen import Specimen

ONE_CHECK = {"caution", "number", "drop", "measuring", "choice", "yes", "no"}
KIT = {"kit", "instrument"}
OF_A_CHECK = {"about", "note", "leave"}


def screen_of(state: str) -> str:
    """What a state is of: its first word, or the screen of one check."""
    first = state.split("_")[0]
    for name, words in (("check", ONE_CHECK), ("kit", KIT), ("of a check", OF_A_CHECK)):
        if first in words:
            return name
    return first


LOOKS = pairwise(
    [
        *((name, screen_of(name)) for name in STATES),
        *((name, "after a touch") for name in TOUCHED),
    ],
    list(SIZES),
    list(PALETTES),
    (1.0, MAX_TEXT_SCALE),
)


@pytest.mark.parametrize("look", LOOKS, ids=lambda look: "-".join(map(str, look)))
def test_a_glove_hits_and_an_eye_reads_everything(look: Look, tmp_path: Path) -> None:
    state, touch = TOUCHED.get(look.state, (look.state, None))
    stage(state, tmp_path)
    set_look(tmp_path, look.palette, look.text_scale)
    with window(SIZES[look.size]):
        ui = Ui(FieldApp(tmp_path, FakeDevice(tmp_path)))
        try:
            ui.rest()
            if touch is not None:
                touch(ui)
                ui.rest()
            assert not faults(ui)
        finally:
            ui.close()
            theme.name, theme.text_scale = "day", 1.0


def test_the_gates_looks_are_few_and_hold_every_state_at_both_text_sizes() -> None:
    assert len(LOOKS) <= 150
    for state in (*STATES, *TOUCHED):
        assert {x.text_scale for x in LOOKS if x.state == state} == {1.0, MAX_TEXT_SCALE}


def test_a_faint_text_and_a_small_key_are_found(ui) -> None:
    driver = ui(Specimen("reading"))
    driver.rest()
    assert not faults(driver)
    key = driver.all(PrimaryButton)[0]
    key.ink = "action"  # on the main key's own color
    key.height = 50
    assert len(faint_texts(driver.all(root=driver.top))) == 1
    assert len(small_main_keys(driver)) == 1
