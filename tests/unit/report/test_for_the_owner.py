"""What the report holds for the owner: the witness, the cards to cut out, the earlier findings."""

from io import BytesIO
from typing import Any

import pytest
from pypdf import PdfReader

from checks import codes
from checks.assess import assess, leave_behinds
from checks.assess.card import Kind
from checks.record import (
    Decision,
    NotDoneReason,
    SignOff,
    Unsigned,
    Visit,
    Witness,
    WitnessRole,
)
from checks.trends import Seen, reinspections
from fieldapp.report.layout import SIGNATURE_TOP, WITNESS_PAD
from fieldapp.report.pages import build
from tests.builders import NOON, visit, with_entries
from tests.unit.test_leave_behinds import DEVICE, SET
from tests.unit.test_reinspected import FIRST, left_out, on

STROKES = (((600, 2600), (1400, 800), (2100, 2700)),)
SIGNED = Witness(name="Invented Owner", role=WitnessRole.OWNER, strokes=STROKES)
AGREED = {"use": "few", "months": "12 months", "is_plan_left": True}


def signed(record: Visit, witness: Witness | None = SIGNED) -> Visit:
    off = SignOff(at=NOON, decision=Decision.KEEP_OUT, strokes=STROKES, witness=witness)
    return record.model_copy(update={"signoff": off})


def pages_of(record: Visit, **more: Any) -> list[str]:
    found = assess(record, codes.profile(record.code))
    pdf = build(record, found, at=NOON, fingerprint="ab" * 32, **more)
    return [" ".join(p.extract_text().split()) for p in PdfReader(BytesIO(pdf)).pages]


@pytest.fixture(scope="module")
def full() -> Visit:
    told = {**SET, "outlet.ground_fault": DEVICE, "handover.upkeep": AGREED}
    return signed(with_entries(visit(), told))


@pytest.mark.parametrize(
    ("decision", "kind"), [(Decision.KEEP_OUT, Kind.TAG), (Decision.RETURN, Kind.MONTHLY)]
)
def test_every_card_is_printed_whole_on_pages_before_the_one_that_is_signed(
    full: Visit, decision: Decision, kind: Kind
) -> None:
    decided = full.signoff.model_copy(update={"decision": decision})
    full = full.model_copy(update={"signoff": decided})
    pages = pages_of(full)
    found = leave_behinds(full, assess(full, codes.profile(full.code)))
    assert len(found.cards) == 4
    assert kind in {card.kind for card in found.cards}
    (first,) = [i for i, text in enumerate(pages) if "To cut out and leave" in text]
    cut_out = " ".join(pages[first:-1])
    for card in found.cards:
        words = [card.title, card.goes, *(t for _, t in card.lines), *card.steps, *card.fill_in]
        for text in (*words, *(t for _, t in card.cautions), *map(str, card.sources)):
            assert text in cut_out, text
    assert "What is signed" in pages[-1]
    assert not any(card.goes in pages[-1] for card in found.cards)


def test_a_card_that_the_record_does_not_carry_yet_is_named_with_what_is_missing() -> None:
    text = " ".join(pages_of(visit()))
    assert "Cards to leave, not made yet" in text
    assert "Panel A, Bay 1. Record at the breaker: rating, poles and spaces." in text
    assert "To cut out and leave" not in text


@pytest.mark.parametrize(
    ("witness", "words"),
    [
        (SIGNED, "Name Invented Owner Role owner"),
        (Witness(unsigned=Unsigned.ABSENT, why="Away"), "nobody was there for the owner Name"),
        (Witness(name="Sam", unsigned=Unsigned.REFUSED, why="Asks first"), "Why Asks first."),
        (None, "no witness named"),
    ],
)
def test_the_sign_off_says_who_signed_for_the_owner_or_why_nobody_did(
    witness: Witness | None, words: str
) -> None:
    pages = pages_of(signed(visit(), witness))
    assert "Witness for the owner" in pages[-1]
    told = words.removesuffix(" Name")
    assert told in pages[-1]
    assert (str(witness) in pages[0]) is (witness is not None)


def test_the_witness_is_drawn_beside_the_field_of_the_signature_not_in_it() -> None:
    left, top, width, _ = WITNESS_PAD
    assert top > SIGNATURE_TOP
    assert left > 56 + width  # the technician's pad, which is the field, ends before it


def test_each_earlier_finding_says_when_it_was_found_and_what_is_so_now() -> None:
    missed = on("2025-06-02", left_out(NotDoneReason.NO_ACCESS, "car in front"))
    seen = Seen(missed.visit, missed.assessment)
    text = " ".join(pages_of(missed.visit, again=reinspections(seen, [FIRST])))
    assert "Found earlier and not inspected again: 1." in text
    section = text[text.index("Findings of earlier visits") :]
    assert (
        "Receptacle against circuit · Bay 1 Found on 2024-03-01: outside, 30 A, "
        "not inspected again: no access: car in front."
    ) in section
    assert "Left out, no access: car in front." in text


def test_a_note_that_was_written_anew_is_printed_with_what_it_said_before() -> None:
    record = with_entries(visit(), {"breaker.rating": {"rated_a": "50 A", "poles": "2"}})
    (entry,) = record.entries
    noted = entry.model_copy(update={"note": "Handle replaced", "notes_before": ("Handle worn",)})
    text = " ".join(pages_of(record.model_copy(update={"entries": (noted,)})))
    assert "Note: Handle replaced Note before: Handle worn" in text
