"""A question that came after an entry was made: the check is owed again, and what it found stays.

The main of a service whose panel is its equipment is read once, at the service or at that panel.
"""

from typing import Any, Final

import pytest

from checks.assess import Row, assess
from checks.codes import profile
from checks.record import SITE, Correction, Entry, NotDone, NotDoneReason, Panel, Visit
from checks.verdict import Severity, Verdict
from fieldapp.walk import agenda
from tests.builders import NOON, PANEL, POINT, entry, visit

CODE: Final = profile("nec_2023")
HERE, OTHER = Panel(id=PANEL, name="Panel A"), Panel(id="panel-b", name="Panel B")
FED: Final = Panel(id=PANEL, name="Panel A", is_service_equipment=False)
DEMAND: Final = {"method": "year", "demand_a": "90 A", "is_included": False, "is_managed": False}
Said = tuple[str, str, dict[str, Any]]

SERVICE: Final[Said] = ("service.rating", SITE, {"service_a": "200 A", "main_a": "200 A"})
SERVICE_ALONE: Final[Said] = ("service.rating", SITE, {"service_a": "100 A"})
BUS_ALONE: Final[Said] = ("panel.rating", PANEL, {"bus_a": "100 A"})


def bus(rated: str, main: str, ahead: str = "main") -> Said:
    return "panel.rating", PANEL, {"bus_a": rated, "ahead": ahead, "main_a": main}


def recorded(*said: Said, **over: Any) -> Visit:
    entries = tuple(entry(c, at, n, **plain) for n, (c, at, plain) in enumerate(said, 1))
    return visit(entries=entries, **over)


def corrected_to_fed(made: Visit, number: int = 90) -> Visit:
    """The panel turns out to be no service equipment."""
    stood = Correction(number=number, at=NOON, panels=(HERE,))
    return made.model_copy(update={"panels": (FED,), "corrections": (stood,)})


def with_panel(made: Visit) -> Visit:
    """A second panel that is service equipment is added."""
    return made.model_copy(update={"panels": (*made.panels, OTHER)})


def later(made: Visit, said: Entry) -> Visit:
    return made.model_copy(update={"entries": (*made.entries, said)})


def row(made: Visit, check: str, subject: str) -> Row:
    return assess(made, CODE).row(check, subject)


def grave(made: Row) -> tuple[Verdict, Severity | None]:
    return made.judgement.verdict, made.judgement.severity


WARNED: Final = (Verdict.OUTSIDE, Severity.WARNING)


def is_done(made: Visit, check: str) -> bool:
    steps = agenda.steps(made, assess(made, CODE), made.point(POINT))
    return next(s for s in steps if s.row.check == check).is_done


def test_a_bus_past_its_main_stays_so_once_the_main_is_asked_for_at_the_panel():
    before = recorded(SERVICE, BUS_ALONE)
    assert grave(row(before, "panel.rating", PANEL)) == WARNED
    assert is_done(before, "panel.rating")
    after = with_panel(before)
    found = row(after, "panel.rating", PANEL)
    assert grave(found) == WARNED
    assert found.is_owed_again
    assert "came up since it was made: its rating. Make it again" in found.judgement.explanation
    assert not is_done(after, "panel.rating")
    # read again, its own main decides
    mended = later(after, entry("panel.rating", PANEL, 9, bus_a="100 A", main_a="90 A"))
    assert row(mended, "panel.rating", PANEL).judgement.verdict is Verdict.WITHIN
    assert is_done(mended, "panel.rating")


def test_a_bus_within_its_main_is_not_within_once_that_main_may_be_another():
    after = with_panel(recorded(SERVICE, ("panel.rating", PANEL, {"bus_a": "200 A"})))
    found = row(after, "panel.rating", PANEL)
    assert (found.judgement.verdict, found.is_owed_again) == (Verdict.NOT_MEASURED, True)
    assert (
        found.judgement.explanation
        == "A question came up since it was made: its rating. Make it again"
    )


@pytest.mark.parametrize("change", [with_panel, corrected_to_fed])
def test_a_main_past_the_service_stays_found_once_its_panel_tells_it_no_more(change: Any):
    before = recorded(bus("200 A", "200 A"), SERVICE_ALONE)
    assert grave(row(before, "service.rating", SITE)) == WARNED
    found = row(change(before), "service.rating", SITE)
    assert grave(found) == WARNED
    assert found.is_owed_again
    assert "since it was made: main breaker or fuse" in found.judgement.explanation
    assert not is_done(change(before), "service.rating")


@pytest.mark.parametrize("change", [with_panel, corrected_to_fed])
def test_what_rests_on_it_stays_found_too_and_says_what_to_make_again(change: Any):
    charger = ("charger.configuration", POINT, {"configured_a": "40 A"})
    load = ("service.load", SITE, DEMAND)
    before = recorded(bus("200 A", "100 A"), SERVICE_ALONE, charger, load)
    assert grave(row(before, "service.load", SITE)) == WARNED
    found = row(change(before), "service.load", SITE)
    assert grave(found) == WARNED
    assert not found.is_owed_again  # it is whole itself
    assert "first make again: Service rating" in found.judgement.explanation


def test_what_another_check_told_is_asked_for_once_that_is_taken_back():
    before = recorded(bus("100 A", "100 A"), SERVICE_ALONE)
    assert row(before, "service.rating", SITE).judgement.verdict is Verdict.WITHIN
    after = before.model_copy(update={"entries": before.entries[1:]})
    found = row(after, "service.rating", SITE)
    assert (found.judgement.verdict, found.is_owed_again) == (Verdict.NOT_MEASURED, True)
    assert not is_done(after, "service.rating")


def test_it_is_asked_for_once_and_not_after_it_was_left_out():
    after = with_panel(recorded(SERVICE, BUS_ALONE))
    why = NotDone(reason=NotDoneReason.OTHER, text="invented")
    left = Entry(number=9, check="panel.rating", subject=PANEL, at=NOON, not_done=why)
    found = row(later(after, left), "panel.rating", PANEL)
    assert grave(found) == WARNED
    assert (found.is_owed_again, found.is_left_out) == (False, True)
    assert is_done(later(after, left), "panel.rating")


def test_an_entry_that_answers_all_that_is_asked_stands_whatever_is_added():
    after = with_panel(recorded(SERVICE, bus("100 A", "90 A")))
    found = row(after, "panel.rating", PANEL)
    assert (found.judgement.verdict, found.is_owed_again) == (Verdict.WITHIN, False)


def test_a_question_that_is_asked_everywhere_came_at_no_time():
    """A record from outside may leave it open: it is judged as before, and nothing came since."""
    made = recorded(("service.rating", SITE, {"main_a": "100 A"}))
    found = row(made, "service.rating", SITE)
    assert (found.judgement.verdict, found.is_owed_again) == (Verdict.NOT_MEASURED, False)


def test_a_panel_that_was_there_and_told_of_is_not_taken_for_one_that_was_added():
    """Its main was asked for when the entry was made: nothing is found of another time."""
    directory = ("panel.directory", OTHER.id, {"is_named": True, "is_legible": True})
    made = recorded(directory, SERVICE, BUS_ALONE, panels=(HERE, OTHER))
    assert row(made, "panel.rating", PANEL).judgement.verdict is Verdict.NOT_MEASURED


@pytest.mark.parametrize("change", [lambda made: made, with_panel])
def test_a_main_past_the_service_stays_found_beside_another_record_that_is_good(change: Any):
    """Both checks recorded one, and of two panels at the service each has a main of its own."""
    before = recorded(SERVICE, bus("400 A", "300 A"))
    found = row(change(before), "service.rating", SITE)
    assert grave(found) == WARNED
    assert "Main 300 A on a service rated 200 A" in found.judgement.explanation


def test_the_feeder_breaker_of_a_panel_is_no_main_of_the_service():
    made = recorded(SERVICE, bus("400 A", "300 A", ahead="feeder"))
    assert row(made, "service.rating", SITE).judgement.verdict is Verdict.WITHIN
