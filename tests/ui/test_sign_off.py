"""The end of a visit by real touches: who signs for the owner, what is left, what was found."""

from collections.abc import Callable
from pathlib import Path

import pytest
from pypdf import PdfReader

from tests.ui.driver import TextInput, Ui  # before Kivy: it chooses the window

from checks.record import SignOff, Unsigned, WitnessRole  # isort: skip
from checks.trends import Standing
from fieldapp.figures.scene import Text
from fieldapp.screens.result import BigVerdict
from fieldapp.widgets import SceneView, SeverityBanner
from tests.gallery.states import stage
from tests.gallery.walking import desk_in
from tests.ui.hand import Hand
from tests.ui.sight import box_of

Open = Callable[[str], Ui]
PIN = "730415"


def signed(hand: Hand) -> tuple[SignOff, str]:
    """What the closed record holds, and the words of the report."""
    desk, walk = hand.guide.desk, hand.walk
    assert desk.store.load(walk.visit.id).seal is not None
    file: Path = desk.store.report_path(walk.visit.id)
    text = " ".join(page.extract_text() for page in PdfReader(file).pages)
    assert walk.visit.signoff is not None
    return walk.visit.signoff, " ".join(text.split())


def keys_of(ui: Ui) -> dict[str, bool]:
    """The keys of the pad, and whether each can be pressed."""
    named = [w for w in ui.all() if getattr(w, "text", "") in ("Undo stroke", "Clear", "Go on")]
    return {w.text: not w.disabled for w in named}


def test_a_witness_signs_on_a_pad_of_their_own_with_undo_and_clear(come_up: Open) -> None:
    ui = come_up("signature")
    hand = Hand(ui)
    assert not any(keys_of(ui).values())
    hand.draw()
    hand.draw()
    assert all(keys_of(ui).values())
    ui.tap_text("Undo stroke")
    ui.tap_text("Go on")
    assert ui.sees("Signature of the witness")
    assert ui.sees("Sam Sample, caretaker")
    assert ui.sees("Decision: keep out of service.")
    assert not any(keys_of(ui).values())  # the technician's strokes are not on it
    hand.draw()
    ui.tap_text("Clear")
    assert not keys_of(ui)["Go on"]
    ui.tap_text("Go back")
    assert keys_of(ui)["Go on"]  # what the technician drew is still there
    ui.tap_text("Go on")
    hand.draw()
    hand.draw()
    ui.tap_text("Go on")
    for _ in ("chosen", "again"):
        ui.pad(PIN)
        ui.tap_text("Sign the report")
    hand.wait_report()
    signoff, text = signed(hand)
    assert (len(signoff.strokes), len(signoff.witness.strokes)) == (1, 2)
    assert (signoff.witness.name, signoff.witness.role) == (
        "Sam Sample, caretaker",
        WitnessRole.REPRESENTATIVE,
    )
    assert "Witness for the owner" in text
    assert "Sam Sample, caretaker, owner's representative, signed" in text


@pytest.mark.parametrize(
    ("unsigned", "said"),
    [
        (Unsigned.ABSENT, {"why": "Owner away, keys from the neighbor"}),
        (Unsigned.REFUSED, {"refused_by": "Robin Sample", "why": "Wants to ask first"}),
    ],
)
def test_who_is_absent_or_will_not_sign_stands_in_the_record_with_the_reason(
    come_up: Open, unsigned: Unsigned, said: dict[str, str]
) -> None:
    hand = Hand(come_up("sign_off"))
    hand.sign(PIN, "Keep out of service", witness=unsigned.value, **said)
    signoff, text = signed(hand)
    assert (signoff.witness.unsigned, signoff.witness.strokes) == (unsigned, ())
    assert (signoff.witness.name, signoff.witness.why) == (said.get("refused_by", ""), said["why"])
    assert unsigned.value in text
    assert said["why"] in text
    hand.ui.tap_text("Cards to leave")
    assert hand.ui.sees("DANGER. DO NOT ENERGIZE.")  # it was decided to keep it out
    hand.ui.tap_text("Power, range and time")
    assert hand.at == "energy"
    assert hand.ui.sees("It was decided to keep it out of service")
    hand.ui.back()
    assert hand.at == "leave"
    hand.ui.back()
    assert hand.at == "report"


def test_a_witness_may_change_their_mind_at_the_pad(come_up: Open) -> None:
    ui = come_up("signature")
    hand = Hand(ui)
    hand.draw()
    ui.tap_text("Go on")
    ui.tap_text("Will not sign")
    assert ui.sees("Who will not sign?")
    hand.write("Sam Sample")
    ui.tap_text("Next")
    hand.write("Wants to see it first")
    ui.tap_text("Next")
    assert hand.at == "signature"
    assert not keys_of(ui)["Go on"]  # signed anew: what is signed has changed
    hand.draw()
    ui.tap_text("Go on")
    assert ui.sees("Choose a PIN")


def test_what_was_not_proved_is_named_before_it_is_returned_to_service(
    come_up: Open, tmp_path: Path
) -> None:
    stage("path_new", tmp_path)
    with desk_in(tmp_path) as desk:
        desk.ledger.go("sign_off", desk.ledger.position.visit)
    ui = come_up("")
    assert not Hand(ui).walk.assessment.is_grave
    ui.tap_text("Decide and sign")
    ui.tap_text("Return to service")
    assert ui.sees("What must stand before it carries current does not all stand.")
    ui.show(ui.find_text("Not checked: "))
    assert "Insulation" in ui.find_text("Not checked: ").text
    ui.tap_text("Keep out of service")
    ui.tap_text("Nobody is here for the owner")
    assert not ui.sees("in spite of this")


def test_nothing_grave_is_returned_to_service_by_one_touch(come_up: Open) -> None:
    ui = come_up("sign_off")
    ui.tap_text("Decide and sign")
    assert ui.sees("Do not use it")  # the banner stands where it is decided
    ui.tap_text("Return to service")
    assert ui.sees("Return to service in spite of this?")
    for finding in Hand(ui).walk.assessment.findings:
        if finding.severity.is_grave:
            ui.show(ui.find_text(f"{finding.row.title}: "))
            assert ui.sees(finding.row.title)
    ui.back()
    assert ui.sees("Keep out of service")  # nothing was decided
    ui.tap_text("Return to service")
    ui.tap_text("Return it in spite of this")
    assert ui.sees("Return to service in spite of this?")  # not before it was read to its end
    assert ui.sees("Keep out of service")  # and this one never waits
    ui.top.ids.scroll.scroll_y = 0
    ui.frames(3)
    ui.tap_text("Return it in spite of this")  # the person decides, knowing it
    ui.tap_text("Nobody is here for the owner")
    hand = Hand(ui)
    hand.write("Away")
    ui.tap_text("Next")
    assert ui.sees("You decide: return to service.")
    assert ui.sees("Do not use it")


def test_a_reason_must_be_written_where_nobody_signs(come_up: Open) -> None:
    ui = come_up("sign_off")
    ui.tap_text("Decide and sign")
    ui.tap_text("Keep out of service")
    ui.tap_text("Nobody is here for the owner")
    assert ui.sees("Why is there no signature?")
    assert not ui.sees("Pass over")
    ui.tap_text("Next")
    assert ui.sees("Nothing stands there yet")


def test_an_earlier_finding_is_listed_until_it_is_inspected_again(come_up: Open) -> None:
    ui = come_up("trends_earlier")
    hand = Hand(ui)
    found = hand.guide.desk.reinspections(hand.walk)
    waiting = sum(r.is_open for r in found)
    assert {r.standing for r in found} == {Standing.NOT_AGAIN, Standing.CLEARED}
    assert ui.sees(f"To inspect again: {waiting}")
    assert ui.sees("Not inspected again: no access: van before it.")
    ui.tap_text("Adapter seated in the inlet")
    assert ui.sees("Found on 2026-03-14: outside")
    ui.tap_text("Make this check")
    hand.make_check()
    ui.tap_text("Path")
    ui.tap_text(f"Found earlier, to inspect again: {waiting - 1}")
    ui.show(ui.find_text(f"Inspected again: {len(found) - waiting + 1}"))
    assert ui.sees("Inspected again")
    ui.back()
    ui.tap_text("Sign off now")
    assert ui.sees("Found earlier and not inspected again: ")  # what is grave of it, first
    ui.show(ui.find_text(f"Found at earlier visits and not inspected again: {waiting - 1}."))
    assert ui.sees(f"Found at earlier visits and not inspected again: {waiting - 1}.")
    ui.tap_text("Decide and sign")
    ui.tap_text("Return to service")
    assert ui.sees("Return to service in spite of this?")
    assert ui.find_text("Found earlier and not inspected again: ")


def test_a_note_of_a_made_check_is_changed_and_what_it_said_before_stays(come_up: Open) -> None:
    ui = come_up("findings")
    ui.tap_text("Receptacle against circuit")
    hand = Hand(ui)
    # each behind what stands there; at one place the second would be a double tap, and choose
    for words, note, end in (
        ("Write a note", "Plug is worn", 12),
        ("Change the note", " today", 60),
    ):
        ui.tap_text(words)
        assert hand.at == "note"
        field = ui.one(TextInput)
        ui.tap(field.to_window(field.right - end, field.center_y))
        ui.type(note)
        ui.tap_text("Keep the note")
        assert hand.at == "result"
    entry = next(e for e in hand.walk.visit.entries if e.check == "outlet.configuration")
    assert (entry.note, entry.notes_before) == ("Plug is worn today", ("Plug is worn",))


def test_the_nights_plan_is_shown_with_what_it_rests_on(come_up: Open) -> None:
    ui = come_up("energy")
    assert ui.sees("no promise")
    scenes = [view.scene for view in ui.all(SceneView)]
    ui.show(ui.find_text("30 kWh each: the last has it after 9.0 h"))
    assert ui.sees("60 kWh each: 0 of 4 have it after 10 h")
    drawn = [i.text for scene in scenes for i in scene.items if isinstance(i, Text)]
    assert "limit as set: 80 A for all together" in " ".join(drawn)


def test_a_signed_report_says_how_grave_it_is_before_its_verdict(come_up: Open) -> None:
    ui = come_up("report")
    worst = ui.app.guide.walk.assessment.findings[0].severity
    (banner,) = ui.all(SeverityBanner)
    assert banner.severity == worst
    assert ui._is_seen(banner)
    assert box_of(banner)[1] > box_of(ui.one(BigVerdict))[3]
