"""What follows an entry: its result, the next check, the causes, what is left."""

from collections.abc import Callable
from typing import Any

import pytest

from checks.errors import ChecksError
from checks.stations.all import BY_ID
from checks.verdict import Verdict
from fieldapp.screens import onward
from fieldapp.walk.agenda import Step
from fieldapp.walk.thread import thread
from fieldapp.widgets import CautionSheet
from tests.ui.driver import Ui
from tests.ui.hand import Hand

Open = Callable[[str], Ui]


def test_a_finding_says_limit_force_source_reason_and_remedy_and_can_be_measured_again(
    come_up: Open,
) -> None:
    ui = come_up("findings")
    ui.tap_text("Receptacle against circuit")
    for words in ("Receptacle rating: at least 50 A", "code rule · NEC (NFPA 70) 2023"):
        ui.show(ui.find_text(words))
        assert ui.sees(words)
    assert ui.find_text("Why it matters")
    assert ui.find_text("What to do")
    ui.tap_text("Mended since: measure again")
    hand = Hand(ui)
    hand.make_check()
    entries = [e for e in hand.walk.visit.entries if e.check == "outlet.configuration"]
    assert [e.after_mending for e in entries] == [False, True]
    assert hand.at == "result"  # beside what it was
    assert ui.sees("within")


def test_an_entry_is_undone_and_its_answers_changed(come_up: Open) -> None:
    ui = come_up("result_outside")
    ui.tap_text("Undo: change the answers")
    assert ui.sees("All answers")
    ui.tap_text("14-30")
    ui.tap_text("14-50")
    hand = Hand(ui)
    assert hand.at == "check"  # all is well: straight on, with what was made in view
    assert hand.walk.check.id != "outlet.configuration"
    assert ui.sees("Receptacle against circuit")
    assert ui.sees("within")
    ui.tap_text("Receptacle against circuit")
    assert hand.at == "result"
    assert ui.find_text("Undo: change the answers")
    ui.tap_text("Next check")
    assert hand.at == "check"
    assert not ui.sees("Receptacle against circuit")


def test_where_the_way_on_cannot_be_saved_no_answer_falls_into_the_next_check(
    come_up: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The disk takes the check and refuses the draft of the next one."""
    ui = come_up("yes_no")
    hand = Hand(ui)
    made = hand.walk.check.id
    save = ui.app.guide.ledger.store.save_draft

    def refuse(visit_id: str, draft: dict[str, Any]) -> None:
        if draft.get("entry", {}).get("check", made) != made:
            raise ChecksError("the disk is full", where="store", remedy="Make room")
        save(visit_id, draft)

    monkeypatch.setattr(ui.app.guide.ledger.store, "save_draft", refuse)
    while hand.walk.questions is not None:
        hand.answer()
    assert ui.sees("The disk is full")
    ui.tap_text("Close")
    assert hand.at == "result"
    assert hand.walk.questions is None
    assert [e.check for e in hand.walk.visit.entries].count(made) == 1
    monkeypatch.undo()
    hand.press_main()
    assert (hand.at, hand.walk.questions.entry.answers) == ("check", ())


def test_what_another_check_came_to_by_an_entry_that_is_within_comes_up(
    come_up: Open, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The other finding is put there by hand: an ordinary walk hardly ever comes to one."""
    told = iter([["panel.spaces@p1"], ["service.rating@site", "panel.spaces@p1"]])
    monkeypatch.setattr(onward, "_findings", lambda _: next(told))
    ui = come_up("yes_no")
    hand = Hand(ui)
    hand.make_check()
    assert (hand.at, ui.app.guide.ledger.position.of) == ("result", "service.rating@site")


def test_the_cautions_of_the_next_check_are_declined_with_the_last_result_in_view(
    come_up: Open,
) -> None:
    ui = come_up("caution")
    hand = Hand(ui)
    hand.accept_cautions()
    while hand.walk.is_open("run.insulation"):
        hand.answer()
    assert isinstance(ui.top, CautionSheet)
    made = hand.walk.visit.entries[-1]
    ui.top.decline()
    ui.settle()
    assert hand.at == "path"
    assert made.check == "run.insulation"
    assert ui.find_text("Insulation")
    assert ui.app.guide.made.check == made.check


def test_a_check_that_nobody_began_is_the_next_and_not_gone_on_with(come_up: Open) -> None:
    ui = come_up("yes_no")
    hand = Hand(ui)
    hand.make_check()
    ui.tap_text("Back")
    assert ui.find_text("Next: Directory")
    ui.tap_text("Next: Directory")
    ui.tap_text("Yes")
    ui.tap_text("Back")
    assert ui.find_text("Go on: Directory")


def test_a_service_call_leads_straight_on_while_it_is_on_the_way_to_one_test(come_up: Open) -> None:
    """Lock and tag, absence of voltage, insulation: the causes come up when the aim is another."""
    ui = come_up("causes_dead")
    hand = Hand(ui)
    assert hand.press_main() == "Ground-fault protection"  # what a test voltage goes through
    hand.make_check()
    assert hand.at == "causes"
    assert ui.sees("First: Lock and tag")
    hand.press_main()
    made = [hand.make_check() for _ in range(2)]
    assert made == ["breaker.lock_and_tag", "breaker.absence_of_voltage"]
    assert (hand.at, hand.walk.check.id) == ("check", "run.insulation")
    hand.accept_cautions()
    hand.to_path()
    hand.station("surroundings")
    ui.tap_text("Reach and way of the cable")
    hand.make_check()
    assert hand.at == "causes"  # no step towards the insulation
    assert ui.sees("Reach and way of the cable")


def test_on_a_call_a_result_leads_on_to_the_next_test_and_tells_the_likeliest_cause(
    come_up: Open,
) -> None:
    ui = come_up("result_on_call")
    hand = Hand(ui)
    now = thread(hand.walk)
    likeliest = now.ranking.causes[0].title
    assert isinstance(now.next, Step)
    assert ui.sees(likeliest)
    ui.tap_text(likeliest)
    assert hand.at == "causes"
    ui.tap_text("Back")
    hand.to_path()
    hand.station("breaker")
    ui.tap_text("Trips of the breaker")
    assert hand.press_main() == f"Test: {now.next.row.title}"
    assert hand.walk.check.id == now.next.row.check


def test_a_cause_that_is_proven_is_told_before_anything_is_done(come_up: Open) -> None:
    ui = come_up("causes_proven")
    hand = Hand(ui)
    hand.to_path()
    hand.station("breaker")
    ui.tap_text("Trips of the breaker")
    assert hand.press_main() == "Likely causes"
    assert ui.sees("Proven")


def test_a_symptom_leads_to_the_causes_that_it_speaks_for(come_up: Open) -> None:
    ui = come_up("causes_empty")
    hand = Hand(ui, lambda _, asked: {"start": "dead"}.get(asked.name, "no"))
    hand.press_main()
    made = hand.make_check()
    assert hand.walk.assessment.row(made, "c1").judgement.verdict is Verdict.OUTSIDE
    assert hand.at == "causes"
    assert ui.sees("outside · ")  # and a touch on it leads to its result
    ui.tap_text(BY_ID[made].title)
    assert hand.at == "result"


def test_a_result_that_was_left_out_never_looks_good(come_up: Open) -> None:
    ui = come_up("result_left_out")
    assert ui.sees("not measured")
    assert not ui.sees("within")


def test_the_sign_off_names_everything_that_was_not_measured(come_up: Open) -> None:
    ui = come_up("sign_off")
    missing = ui.app.guide.walk.assessment.unfinished
    assert missing
    assert ui.sees(f"{len(missing)} not measured")
    for row in missing:
        assert ui.find_text(row.title)


def test_on_a_call_a_state_leads_to_what_it_was_entered_for(come_up: Open) -> None:
    """The causes do not come up between the state and the test that it was entered for."""
    ui = come_up("causes_dead")
    hand = Hand(ui)
    hand.to_path()
    ui.tap_text("Undo: circuit dead and proved")
    while hand.at != "state":  # what its insulation waits for, then the causes
        if hand.at == "check":
            hand.make_check()
        else:
            hand.press_main()
    hand.bring_into_state()
    assert (hand.at, hand.walk.check.id) == ("check", "breaker.lock_and_tag")
    hand.accept_cautions()
    ui.tap_text("Circuit: off, not proved dead yet")
    assert hand.at == "path"
