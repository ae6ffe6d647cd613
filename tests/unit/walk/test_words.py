"""Typed and pasted words: whatever stands in a field becomes record text, or is refused by name."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import TypeAdapter

from checks.check import CircuitState
from checks.record import TEXT_MOST, DangerAnswer, NotDoneReason, Text, as_text
from fieldapp.store.visits import Store
from fieldapp.walk import forms
from fieldapp.walk.desk import Desk
from fieldapp.walk.evidence import photos_key
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.observed import composed
from fieldapp.walk.visit import Walk, WalkError
from fieldapp.walk.words import worded
from tests.builders import POINT
from tests.unit.walk.reopened import Clock, Reopened, Walks

CHECK = "charger.nameplate"
PASTED = "Panel\tA\r\nkey\x00 with\x0bthe \x7fowner\ud800"
KEPT = "Panel A\nkey with\nthe owner"
LONG = "x" * (TEXT_MOST + 300)
TOO_LONG = f"2300 characters are too many, {TEXT_MOST} is the most. Shorten it by 300"

text = TypeAdapter(Text)


@given(st.text(st.characters()))
def test_whatever_is_typed_becomes_text_of_the_record_and_what_is_text_stays(typed: str):
    assert text.validate_python(as_text(typed)) == as_text(typed)
    assert as_text(as_text(typed)) == as_text(typed)


def test_words_are_as_they_were_read_and_as_long_as_fits():
    assert worded(f"  {PASTED} ", "Note") == KEPT
    assert worded("x" * TEXT_MOST, "Note") == "x" * TEXT_MOST
    with pytest.raises(WalkError, match=f"Note: {TOO_LONG}"):
        worded(LONG, "Note")


# -- every field that words are typed into ---------------------------------------------------------
def to_words(w: Reopened) -> None:
    """Answer the check that is open up to its question for words."""
    w.do(lambda walk: walk.begin("breaker.rating"))
    w.do(lambda walk: walk.answer("40", unit="A"))
    w.do(lambda walk: walk.answer("2"))


def test_pasted_words_are_an_answer_a_note_a_reason_and_a_name(walks: Walks):
    w = walks()
    to_words(w)
    w.do(lambda walk: walk.typing(PASTED))
    assert w.walk.open_questions.typed["spaces"] == KEPT
    w.do(lambda walk: walk.note(PASTED))
    w.do(lambda walk: walk.answer(PASTED))
    w.do(lambda walk: walk.commit())
    made = w.walk.visit.entries[0]
    assert (made.note, made.answers[-1].text) == (KEPT, KEPT)
    key = photos_key(made, is_made=True)
    w.do(lambda walk: walk.note_anew(f"{PASTED}!", key, begun=made))
    assert w.walk.visit.entries[0].note == f"{KEPT}!"
    w.do(lambda walk: walk.leave_out(NotDoneReason.OTHER, PASTED, check_id="panel.condition"))
    left = w.walk.visit.entries[-1].not_done
    assert left is not None
    assert left.text == KEPT
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD, brought_by=PASTED))
    assert w.walk.visit.states[-1].brought_by == KEPT
    w.do(lambda walk: walk.correct("site@site", PASTED))
    assert w.walk.visit.site.name == KEPT


def test_words_that_are_too_long_are_refused_with_how_long_they_may_be(walks: Walks):
    w = walks()
    to_words(w)
    w.do(lambda walk: walk.typing(LONG))
    w.refused(lambda walk: walk.answer(LONG), TOO_LONG)
    assert w.walk.open_questions.typed["spaces"] == LONG  # it is there again, to be shortened
    w.do(lambda walk: walk.answer("7 and 9"))
    w.do(lambda walk: walk.commit())
    made = w.walk.visit.entries[0]
    key = photos_key(made, is_made=True)
    w.refused(lambda walk: walk.note_anew(LONG, key, begun=made), TOO_LONG)
    reason = NotDoneReason.OTHER
    w.refused(lambda walk: walk.leave_out(reason, LONG, check_id="panel.condition"), TOO_LONG)
    w.refused(lambda walk: walk.go_without(CircuitState.DEAD, reason, LONG), TOO_LONG)
    w.refused(lambda walk: walk.enter_state(CircuitState.DEAD, brought_by=LONG), TOO_LONG)
    w.refused(lambda walk: walk.correct("site@site", LONG), TOO_LONG)
    assert len(w.walk.visit.entries) == 1


def test_a_note_that_is_too_long_stays_as_it_was_typed_until_it_is_shorter(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.begin("breaker.condition"))
    w.do(lambda walk: walk.note("begun"))
    with pytest.raises(WalkError, match=TOO_LONG):
        w.walk.note(LONG)
    w.do(lambda walk: [walk.answer("no") for _ in range(3)])
    assert (w.walk.note_typed, w.walk.open_questions.entry.note) == (LONG, "begun")
    w.refused(lambda walk: walk.commit(), TOO_LONG)
    w.refused(lambda walk: walk.leave_out(NotDoneReason.OTHER), TOO_LONG)
    w.do(lambda walk: walk.note("shorter"))
    w.do(lambda walk: walk.commit())
    assert w.walk.visit.entries[0].note == "shorter"


def test_the_forms_take_pasted_words_and_refuse_too_many(tmp_path: Path):
    with Store(tmp_path) as store:
        desk = Desk(Ledger(store, Clock()))
        form = desk.form(forms.BEGIN)
        for answer in ("commissioning", "installs", PASTED):
            form = desk.answer_form(form, answer)
        assert forms.said(desk.form(forms.BEGIN).entry, "site") == KEPT
        desk.keep_form(form.typing("address", LONG))
        with pytest.raises(WalkError, match=f"Address: {TOO_LONG}"):
            desk.answer_form(form, LONG)
        assert Desk(Ledger(store, Clock())).form(forms.BEGIN).typed["address"] == LONG


def test_a_proposal_is_put_behind_the_note_as_far_as_there_is_room():
    proposal = "Damage: no. Heat: no."
    assert composed("", proposal) == proposal
    assert composed("Mine. ", proposal) == f"Mine.\n{proposal}"
    assert composed(f"Mine.\n{proposal}", proposal) == f"Mine.\n{proposal}"
    near = "x" * (TEXT_MOST - 13)
    assert composed(near, proposal) == f"{near}\nDamage: no."
    exact = "x" * (TEXT_MOST - len(proposal) - 1)
    assert len(composed(exact, proposal)) == TEXT_MOST
    with pytest.raises(WalkError, match=r"no room for what was seen\. Shorten the note first"):
        composed("x" * TEXT_MOST, proposal)


# -- a draft that cannot be read -------------------------------------------------------------------
def spoil(w: Reopened, **entry: object) -> None:
    """Put into every half-made check on disk what no record can hold."""
    w.close()
    path = w.folder / "visits" / f"{w.id}.json"
    doc = json.loads(path.read_text())
    (draft,) = doc["draft"].values()
    for each in (draft, *draft["left"].values()):
        if "entry" in each:
            each["entry"].update(entry)
    path.write_text(json.dumps(doc))
    w.store = Store(w.folder)


@pytest.mark.parametrize("bad", [{"note": "a\tb"}, {"note": LONG}, {"answers": 3}, {"at": None}])
def test_what_is_half_made_and_cannot_be_read_keeps_nobody_out(walks: Walks, bad: dict):
    w = walks()
    w.answers("breaker.condition", "no")
    w.answers("breaker.rating", "40 A")
    spoil(w, **bad)
    w.walk = Walk(w.store, w.id, w.clock)
    told = w.walk.unread
    assert told is not None
    assert "Breaker rating; Breaker condition" in str(told)
    assert "kept aside" in str(told)
    assert w.walk.questions is None
    w.walk.begin("breaker.rating")
    assert w.walk.open_questions.entry.answers == ()
    w.close()
    w.store = Store(w.folder)
    again = Walk(w.store, w.id, w.clock)
    assert again.unread is None  # told once
    kept = w.store.load(w.id).draft["aside"]
    assert [part["entry"]["check"] for part in kept] == ["breaker.rating", "breaker.condition"]
    assert all(part["entry"][name] == said for part in kept for name, said in bad.items())


def test_a_danger_that_was_answered_stands_though_the_rest_cannot_be_read(walks: Walks):
    w = walks()
    w.answers("panel.condition", "no", "yes")
    w.do(lambda walk: walk.answer_danger(DangerAnswer.OFF))
    spoil(w, note="a\tb")
    w.walk = Walk(w.store, w.id, w.clock)
    assert w.walk.unread is not None
    assert [e.check for e in w.walk.dangers_begun] == ["panel.condition"]
    assert w.walk.open_questions.entry.answers == ()
    with pytest.raises(WalkError, match="a danger was found, and its check is not finished"):
        w.walk.enter_state(CircuitState.ENERGISED)


@pytest.mark.parametrize(
    "draft",
    [
        {"left": 3, "taken": "x"},
        {"point": "gone"},
        {"left": {"a": 1}, "taken": [1]},
        {"entry": 1},
        {"aside": 3},
    ],
)
def test_a_draft_of_whatever_shape_keeps_nobody_out(walks: Walks, draft: dict):
    w = walks()
    w.store.save_draft(w.id, draft)
    w.walk = Walk(w.store, w.id, w.clock)
    assert (w.walk.questions, w.walk.point_id) == (None, POINT)
    w.makes("breaker.condition", *["no"] * 3)
