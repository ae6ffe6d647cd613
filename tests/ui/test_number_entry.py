"""A number from the first digit to the second reading: interval, way back, comma, mending."""

from collections.abc import Callable

import pytest

from checks.verdict import Severity
from fieldapp.widgets import NumberPad, ValueDisplay, theme
from fieldapp.widgets.rows import ListRow
from tests.ui.driver import Ui
from tests.ui.hand import Hand

Open = Callable[[str], Ui]


def test_the_gauge_follows_each_digit_with_its_interval_and_the_unit_stands_by(
    come_up: Open,
) -> None:
    ui = come_up("number")
    display = ui.one(ValueDisplay)
    assert (display.unit, display.verdict) == ("MΩ", "not measured")
    ui.pad("1.04")  # the whole interval of the meter must lie beyond the limit, and it does not
    assert ui.sees("at least 1 MΩ")
    assert (display.text, display.verdict) == ("1.04", "borderline")
    assert display.figure is not None
    ui.key("backspace")
    ui.pad("9")
    assert (display.text, display.verdict) == ("1.09", "within")


def test_the_way_back_shows_the_number_as_it_was_taken_and_takes_another(come_up: Open) -> None:
    ui = come_up("number")
    hand = Hand(ui)
    hand.number("210")
    first = hand.walk.questions.current
    ui.tap_text("Previous")
    assert ui.one(NumberPad).text == "210"
    for sign in ("backspace",) * 3:
        ui.key(sign)
    for sign in "0,4":  # a keyboard's comma is the decimal mark as well
        ui.key(sign)
    assert ui.one(NumberPad).text == "0.4"
    assert ui.sees("outside")
    hand.press_main()
    assert ui.sees("Does it read 0.40?")  # its display has two decimals
    ui.tap_text("0.40 MΩ")
    assert hand.walk.questions.current == first
    assert hand.walk.questions.entry.answer("line_ground").value == "0.40"


@pytest.mark.parametrize("text_scale", [1.0, 1.3])
@pytest.mark.parametrize("state", ["number_optional", "number", "drop_empty", "measuring_due"])
def test_nothing_moves_under_the_finger_while_a_number_is_typed(
    come_up: Open, state: str, text_scale: float
) -> None:
    """The pad stays, the question stays in view, and no key beside the digits skips it."""
    ui = come_up(state)
    theme.text_scale = text_scale
    ui.app.guide.screen.fill()
    ui.settle()
    pad, title = ui.one(NumberPad), ui.app.guide.screen.title
    at, header = pad.to_window(*pad.pos), ui.app.guide.screen.header
    header_at = header.to_window(*header.pos)
    for digit in "24.5":
        ui.pad(digit)
        assert pad.to_window(*pad.pos) == at
        assert header.to_window(*header.pos) == header_at
        assert ui.sees(title)
        assert not ui.sees("Pass over")
        assert not ui.sees("There is none")


def test_a_number_that_may_be_left_out_is_passed_over_until_a_digit_is_typed(
    come_up: Open,
) -> None:
    ui = come_up("number_optional")
    hand = Hand(ui)
    asked = hand.walk.questions.current
    ui.pad("7")
    ui.key("backspace")
    ui.tap_text("Pass over")
    assert hand.walk.questions.current != asked
    assert hand.walk.questions.entry.answer(asked.name) is None


def test_findings_stand_by_severity_and_then_along_the_path(come_up: Open) -> None:
    ui = come_up("findings")
    shown = [row.title for row in ui.all(ListRow)]
    findings = ui.app.guide.walk.assessment.findings
    assert len(findings) > 1
    assert shown == [f.row.title for f in findings][: len(shown)]
    worst_first = list(Severity)
    order = [worst_first.index(f.severity) for f in findings]
    assert order == sorted(order)


def test_mended_takes_a_second_reading_and_shows_the_first_beside_it(come_up: Open) -> None:
    ui = come_up("result_outside")
    hand = Hand(ui)
    check = hand.guide.screen.of.split("@")[0]
    ui.tap_text("Mended since: measure again")
    assert hand.walk.questions.entry.answers == ()  # nothing is filled in from the first
    hand.make_check()
    entries = [e for e in hand.walk.visit.entries if e.check == check]
    assert [e.after_mending for e in entries] == [False, True]
    for words in ("As found", "Now"):
        ui.show(ui.find_text(words))
        assert ui.sees(words)
