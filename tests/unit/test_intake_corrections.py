"""What was corrected comes in as it stood; a correction that lies is refused."""

from collections.abc import Iterable, Mapping
from typing import Any

import pytest

from checks.errors import RecordError
from checks.intake import read_visit
from checks.record import Correction, Coupler, Panel, Site, SupplySystem, Visit
from tests.builders import NOON, PANEL, POINT, entry, point, visit
from tests.unit.intake_records import assert_found


def test_an_entry_belongs_to_what_was_installed_when_it_was_made():
    """The adapter was there until the inlet was corrected; later none can be recorded."""
    made = visit(entries=(entry("adapter.pins", POINT, 2, is_pitted=False),))
    before = point(inlet=Coupler.J3400)
    corrected = made.model_copy(
        update={"corrections": (Correction(number=3, at=NOON, points=(before,)),)}
    )
    assert read_visit(corrected.model_dump(mode="json")) == corrected
    late = {"corrections": (Correction(number=1, at=NOON, points=(before,)),)}
    with pytest.raises(RecordError, match="cannot be recorded"):
        read_visit(made.model_copy(update=late).model_dump(mode="json"))


BAY, RENAMED = point(name="Bay"), point(name="Bay 1")  # before, and as it stands


@pytest.mark.parametrize(
    ("before", "where", "problem", "remedy"),
    [
        ({"code": "nec_1066"}, "number 3, code", "no code profile 'nec_1066'", "Use nec_2023 or"),
        ({"code": "nec_2023"}, "number 3, code", "what stood after it", "only what was corrected"),
        ({"points": (RENAMED,)}, "number 3, points", "what stood after it", "only what was"),
        ({"site": Site(name="Invented site")}, "number 3, site", "stood after it", "only what was"),
        ({"system": SupplySystem.SPLIT_PHASE}, "number 3, system", "stood after it", "only what"),
        ({"panels": (Panel(id=PANEL, name="Panel A"),)}, "3, panels", "stood after it", "only"),
        ({"points": (BAY, point(name="B"))}, "number 3, points", "corrected twice", "once each"),
        (
            {"panels": (Panel(id=PANEL, name="B"), Panel(id=PANEL, name="C"))},
            "number 3, panels",
            "corrected twice",
            "once each",
        ),
    ],
)
def test_a_correction_that_says_what_was_not_so_is_refused(
    before: dict[str, Any], where: str, problem: str, remedy: str
):
    made = visit().model_copy(update={"corrections": (Correction(number=3, at=NOON, **before),)})
    with pytest.raises(RecordError, match=problem) as caught:
        read_visit(made.model_dump(mode="json"))
    assert_found(where, caught.value.where)
    assert_found(remedy, caught.value.remedy)


def test_a_correction_is_held_against_what_stood_after_it_and_not_against_what_stands_now():
    """Corrected, and corrected back: each says what stood before it."""
    there = Correction(number=3, at=NOON, points=(RENAMED,))
    back = Correction(number=4, at=NOON, points=(BAY,))
    made = visit().model_copy(update={"corrections": (there, back)})
    assert read_visit(made.model_dump(mode="json")) == made


def test_the_longest_row_of_corrections_is_read_in_one_sweep_back(monkeypatch: pytest.MonkeyPatch):
    """No step of the reading goes over the corrections once for each entry or correction."""
    swept: list[int] = []
    real = Visit.as_it_stood_at

    def counted(self: Visit, numbers: Iterable[int]) -> Mapping[int, Visit]:
        swept.append(len(self.corrections))
        return real(self, numbers)

    monkeypatch.setattr(Visit, "as_it_stood_at", counted)
    entries = tuple(entry("adapter.pins", POINT, 2 * n, is_pitted=False) for n in (1, 2, 3))
    corrections = tuple(
        Correction(number=2 * n + 1, at=NOON, points=(point(name=f"B{n}", inlet=Coupler.J3400),))
        for n in (1, 2, 3)
    )
    made = visit().model_copy(update={"entries": entries, "corrections": corrections})
    swept.clear()
    assert read_visit(made.model_dump(mode="json")) == made
    assert swept == [3, 3], "once for how it hangs together, once for its entries"
