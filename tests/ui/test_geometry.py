"""Every screen in every state: large enough for gloves, apart, nothing cut, nothing faint."""

import pytest

# First: it chooses a window that needs no screen, before Kivy is imported.
from tests.gallery.looks import NAMES, SCALES, SIZES, Look, come_up, screen_of

from fieldapp.theme import PALETTES  # isort: skip
from fieldapp.widgets import PrimaryButton
from tests.ui.contrast import faint_texts
from tests.ui.geometry import faults, small_main_keys
from tests.ui.pairs import pairwise
from tests.ui.specimen import Specimen

MOST = 146  # of 150 at most: in two minutes, on a machine that is busy too
SCREENS = {name: screen_of(name) for name in NAMES}
LOOKS = pairwise(list(SCREENS.items()), list(SIZES), list(PALETTES), SCALES, at_most=MOST)


@pytest.mark.parametrize("look", LOOKS, ids=str)
def test_a_glove_hits_an_eye_reads_and_a_key_reaches_everything(look: Look) -> None:
    """``python -m tests.gallery --measure`` holds the same of every look there is."""
    with come_up(look) as ui:
        assert not faults(ui)


def test_the_gates_looks_are_few_and_hold_every_state_and_pair() -> None:
    assert len(LOOKS) <= MOST
    assert {look.state for look in LOOKS} == set(NAMES)
    for screen in set(SCREENS.values()):
        of = [look for look in LOOKS if SCREENS[look.state] == screen]
        assert {look.size for look in of} == set(SIZES)
        assert {look.palette for look in of} == set(PALETTES)
        assert {look.text_scale for look in of} == set(SCALES)


def test_a_faint_text_and_a_small_key_are_found(ui) -> None:
    driver = ui(Specimen("reading"))
    driver.rest()
    assert not faults(driver)
    key = driver.all(PrimaryButton)[0]
    key.ink = "action"  # on the main key's own color
    key.height = 50
    assert len(faint_texts(driver.all(root=driver.top))) == 1
    assert len(small_main_keys(driver)) == 1
