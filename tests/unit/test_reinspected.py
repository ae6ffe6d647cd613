"""What became of the findings of earlier visits: each keeps its identity until it is made again.

Common practice, no source: a correction is inspected again (item 120 of the coverage list).
"""

from typing import Any

import pytest

from checks.assess import SetAside
from checks.record import Correction, Coupler, NotDone, NotDoneReason, Panel, Role, Visit, VisitKind
from checks.trends import (
    Reinspection,
    Seen,
    SiteError,
    Standing,
    called,
    reinspections,
    standing_grave,
    stands_still,
)
from checks.verdict import Severity
from tests.builders import PANEL, POINT, entry, hard_wired, point, visit
from tests.unit.test_trends import judged

PLUG = "outlet.configuration"
SMALL = {"kind": "14-30", "count": "single"}
RIGHT = {"kind": "14-50", "count": "single"}
HOT = {"has_heat_marks": True}


def on(day: str, *entries: Any, **over: Any) -> Seen:
    """A visit of that day with some entries, made at noon; a 50 A breaker is always read."""
    stamp = f"{day}T12:00:00Z"
    breaker = entry("breaker.rating", POINT, 1, rated_a="50 A", poles="2")
    made = [e.model_copy(update={"at": stamp}) for e in (breaker, *entries)]
    return judged(visit(id=f"v{day}", started=stamp, entries=tuple(made), **over))


def plug(number: int = 2, subject: str = POINT, **answers: Any) -> Any:
    return entry(PLUG, subject, number, **answers)


def left_out(reason: NotDoneReason, text: str = "") -> Any:
    empty = plug(**RIGHT).model_copy(update={"answers": ()})
    return empty.model_copy(update={"not_done": NotDone(reason=reason, text=text)})


def of_plug(found: tuple[Reinspection, ...]) -> Reinspection:
    (one,) = [r for r in found if r.check == PLUG]
    return one


FIRST = on("2024-03-01", plug(**SMALL))


def test_an_open_finding_is_listed_with_its_day_and_value_until_it_is_made_again() -> None:
    found = of_plug(reinspections(on("2025-06-02"), [FIRST]))
    assert found.standing is Standing.NOT_AGAIN
    assert found.is_open
    assert found.found == "Found on 2024-03-01: outside, 30 A"
    assert found.stands == "not inspected again"


def test_what_was_grave_stands_until_it_was_looked_at_again() -> None:
    burnt = entry("outlet.damage", POINT, 3, has_heat_marks=True, is_cracked=False, is_wet=False)
    sound = entry("outlet.damage", POINT, 3, has_heat_marks=False, is_cracked=False, is_wet=False)
    first = on("2024-03-01", plug(**SMALL), burnt)
    before = {r.check: r.before.severity for r in reinspections(on("2025-06-02"), [first])}
    assert before["outlet.damage"] is Severity.DANGER
    waiting = standing_grave(reinspections(on("2025-06-02"), [first]), VisitKind.COMMISSIONING)
    assert waiting[0].check == "outlet.damage"
    assert all(r.before.severity in (Severity.DANGER, Severity.WARNING) for r in waiting)
    assert "not inspected again: Damage at the outlet (Bay 1, 2024-03-01)" in stands_still(waiting)
    looked = standing_grave(
        reinspections(on("2025-06-02", sound), [first]), VisitKind.COMMISSIONING
    )
    assert "outlet.damage" not in [r.check for r in looked]
    assert stands_still(()) == ""


@pytest.mark.parametrize(
    ("now", "standing", "words"),
    [
        (RIGHT, Standing.CLEARED, "Now: within"),
        (SMALL, Standing.FOUND_AGAIN, "Now: outside, 30 A"),
    ],
)
def test_made_again_it_says_what_is_found_now(
    now: dict[str, str], standing: Standing, words: str
) -> None:
    found = of_plug(reinspections(on("2025-06-02", plug(**now)), [FIRST]))
    assert (found.standing, found.stands, found.is_open) == (standing, words, False)


def test_what_could_not_be_reached_is_not_inspected_again_and_says_why() -> None:
    missed = on("2025-06-02", left_out(NotDoneReason.NO_ACCESS, "car in front"))
    found = of_plug(reinspections(missed, [FIRST]))
    assert found.standing is Standing.NOT_AGAIN
    assert found.stands == "not inspected again: no access: car in front"


def test_it_stays_open_over_a_visit_that_could_not_look_and_keeps_its_first_day() -> None:
    missed = on("2024-09-01", left_out(NotDoneReason.NO_ACCESS))
    again = on("2024-12-01", plug(**SMALL))
    found = of_plug(reinspections(on("2025-06-02"), [again, FIRST, missed]))
    assert (found.first_on, found.on, found.visit) == ("2024-03-01", "2024-12-01", "v2024-12-01")
    assert found.found.startswith("Found on 2024-12-01, first on 2024-03-01: outside")


def test_what_a_later_visit_found_within_is_closed() -> None:
    mended = on("2024-09-01", plug(**RIGHT))
    assert reinspections(on("2025-06-02"), [FIRST, mended]) == ()
    # found anew after that, it begins anew
    anew = on("2025-01-01", plug(**SMALL))
    found = of_plug(reinspections(on("2025-06-02"), [FIRST, mended, anew]))
    assert found.first_on == "2025-01-01"


def test_a_point_is_known_by_its_name_whatever_its_number_in_the_record() -> None:
    other = point(id="c7")
    entries = (plug(**RIGHT, subject="c7"),)
    latest = judged(
        visit(id="now", started="2025-06-02T12:00:00Z", points=(other,), entries=entries)
    )
    found = of_plug(reinspections(latest, [FIRST]))
    assert (found.subject, found.standing) == ("c7", Standing.NOT_JUDGED)
    assert found.is_open
    assert found.stands.startswith("made again, not judged yet: the breaker's rating")


def test_a_place_that_the_latest_visit_does_not_hold_is_said() -> None:
    latest = on_other_point()
    found = of_plug(reinspections(latest, [FIRST]))
    assert (found.subject, found.name) == ("", "Bay 1")
    assert found.stands == "not inspected again: it is not part of this visit"


def on_other_point() -> Seen:
    other = hard_wired(id="bay-2", name="Bay 2")
    return judged(visit(id="now", started="2025-06-02T12:00:00Z", points=(other,)))


def test_who_opens_nothing_closes_no_finding_that_they_may_not_look_at() -> None:
    torn = entry("panel.terminals", PANEL, 2, has_heat_marks=True)
    opened = on("2024-03-01", torn)
    looked = on("2024-09-01", role=Role.INSPECTS)
    (found,) = [
        r for r in reinspections(on("2025-06-02"), [opened, looked]) if r.check == "panel.terminals"
    ]
    assert found.is_open
    assert found.name == "Panel A"


def corrected(seen: Seen, **before: Any) -> Seen:
    """A visit on which something was corrected at its end, after what stood before."""
    made = Correction(number=1000 + len(seen.visit.corrections), at=seen.visit.started, **before)
    corrections = (*seen.visit.corrections, made)
    return judged(seen.visit.model_copy(update={"corrections": corrections}))


def of_site(**changed: str) -> Any:
    return visit().site.model_copy(update=changed)


@pytest.mark.parametrize("changed", [{"name": "Invented yard"}, {"address": "12 Example Street"}])
def test_a_site_whose_name_or_address_was_corrected_is_the_same_site(changed: Any) -> None:
    renamed = corrected(on("2024-09-01", site=of_site(**changed)), site=visit().site)
    assert of_plug(reinspections(renamed, [FIRST])).is_open
    # and so at every visit after, to whichever name, through the one that knows both
    for site in (of_site(**changed), visit().site):
        latest = on("2025-06-02", site=site)
        found = of_plug(reinspections(latest, [FIRST, renamed]))
        assert (found.subject, found.visit) == (POINT, FIRST.visit.id)
    with pytest.raises(SiteError):
        reinspections(on("2025-06-02", site=of_site(**changed)), [FIRST])


def test_a_visit_that_was_begun_under_another_site_joins_the_two_in_nothing() -> None:
    ours, theirs = of_site(address="1 Elm Way"), of_site(name="Oak yard", address="9 Oak Road")
    halfway = of_site(name="Oak yard", address="1 Elm Way")
    slipped = on("2024-09-01", plug(**RIGHT), site=theirs)
    for before in (ours, halfway):
        slipped = corrected(slipped, site=before)
    first = on("2024-03-01", plug(**SMALL), site=ours)
    assert called(slipped.visit) & called(on("2025-06-02", site=theirs).visit)
    assert not called(slipped.visit) & called(first.visit)
    assert of_plug(reinspections(on("2025-06-02", site=ours), [first])).is_open
    for latest, earlier in ((ours, slipped), (theirs, first)):
        with pytest.raises(SiteError):
            reinspections(on("2025-06-02", site=latest), [earlier])
    with pytest.raises(SiteError):
        reinspections(on("2025-06-02", site=theirs), [slipped, first])


def test_a_corrected_site_is_not_one_that_is_real() -> None:
    renamed = corrected(on("2024-09-01", site=of_site(name="Invented yard")), site=visit().site)
    with pytest.raises(SiteError):
        reinspections(on("2025-06-02", is_invented=not FIRST.visit.is_invented), [FIRST, renamed])


def test_a_point_whose_name_was_corrected_keeps_what_was_found_there() -> None:
    north = point(name="Bay 1 north")
    renamed = corrected(on("2024-09-01", points=(north,)), points=(point(),))
    assert of_plug(reinspections(renamed, [FIRST])).subject == POINT
    latest = on("2025-06-02", points=(north,))
    assert of_plug(reinspections(latest, [FIRST, renamed])).subject == POINT
    # who goes on from the earlier name meets what was found under the later one
    found_there = on("2024-09-01", plug(**SMALL), points=(north,))
    mid = corrected(found_there, points=(point(),))
    assert of_plug(reinspections(on("2025-06-02"), [mid])).subject == POINT


def test_a_point_that_got_the_name_of_another_is_not_taken_for_it() -> None:
    before = (point(), hard_wired(id="bay-2", name="Bay 2"))
    now = (point(name="Bay 9"), hard_wired(id="bay-2", name="Bay 1"))
    swapped = corrected(on("2024-09-01", points=now), points=before)
    first = on("2024-03-01", plug(**SMALL), points=before)
    assert of_plug(reinspections(swapped, [first])).subject == POINT
    ids = (point(id="c1", name="Bay 9"), hard_wired(id="c2", name="Bay 1"))
    latest = judged(visit(id="now", started="2025-06-02T12:00:00Z", points=ids))
    assert of_plug(reinspections(latest, [first, swapped])).subject == "c1"


def test_a_panel_whose_name_was_corrected_keeps_what_was_found_there() -> None:
    hot = on("2024-03-01", entry("panel.condition", PANEL, 2, **HOT))
    two = (Panel(id=PANEL, name="Main"), Panel(id="p2", name="Panel B"))
    renamed = corrected(on("2024-09-01", panels=two), panels=(Panel(id=PANEL, name="Panel A"),))
    assert [r.subject for r in reinspections(renamed, [hot])] == [PANEL]
    latest = on("2025-06-02", panels=two[::-1])
    assert [r.subject for r in reinspections(latest, [hot, renamed])] == [PANEL]


def test_twins_of_an_old_record_do_not_close_each_others_findings() -> None:
    twins = (point(), point(id="bay-2"))
    mixed = (plug(**SMALL), entry("breaker.rating", "bay-2", 3, rated_a="50 A", poles="2"))
    sound = plug(4, subject="bay-2", **RIGHT)
    first = on("2024-03-01", *mixed, sound, points=twins)
    assert of_plug(reinspections(on("2025-06-02", points=twins), [first])).subject == POINT
    assert of_plug(reinspections(on_other_point(), [first])).is_open


def test_a_panel_is_known_by_its_name_and_where_there_is_one_by_that() -> None:
    hot = on("2024-03-01", entry("panel.condition", PANEL, 2, **HOT))
    renamed = (Panel(id=PANEL, name="Main panel"),)
    assert [r.name for r in reinspections(on("2025-06-02", panels=renamed), [hot])] == [
        "Main panel"
    ]
    two = (Panel(id="p1", name="Garage"), Panel(id="p2", name="PANEL  a"))
    points = (point(panel="p2"),)
    latest = judged(visit(id="now", started="2025-06-02T12:00:00Z", panels=two, points=points))
    assert [r.subject for r in reinspections(latest, [hot])] == ["p2"]


def test_a_charger_with_another_number_is_another_one() -> None:
    def plate(serial: str) -> dict[str, Any]:
        told = {"rated_a": "48 A", "volts": "208-240", "is_listed": True, "enclosure": "type_3r"}
        return entry("charger.nameplate", POINT, 3, **told, serial=serial)

    broken = entry("charger.damage", POINT, 4, is_case_broken=True)
    old = on("2024-03-01", plate("S1"), broken)
    found = [r for r in reinspections(on("2025-06-02", plate("S2")), [old]) if "damage" in r.check]
    assert [r.standing for r in found] == [Standing.REPLACED]
    same = [r for r in reinspections(on("2025-06-02", plate("S1")), [old]) if "damage" in r.check]
    assert [r.standing for r in same] == [Standing.NOT_AGAIN]


def test_the_gravest_stands_first() -> None:
    both = on("2024-03-01", plug(**SMALL), entry("panel.condition", PANEL, 3, **HOT))
    checks = [r.check for r in reinspections(on("2025-06-02"), [both])]
    assert checks.index("panel.condition") < checks.index(PLUG)


HERE, GONE = point(inlet=Coupler.TYPE_1), point(inlet=None)
INLET = "vehicle.inlet_condition"
BURNT = entry(INLET, POINT, 2, has_burn_marks=True)


def set_aside(day: str) -> Seen:
    """A visit on which the inlet was burnt, and then it was said that no vehicle is here."""
    return corrected(on(day, BURNT, points=(GONE,)), points=(HERE,))


def of_inlet(latest: Seen, *earlier: Seen) -> list[Reinspection]:
    return [r for r in reinspections(latest, earlier) if r.check == INLET]


def test_what_a_correction_set_aside_is_told_on_the_visits_after() -> None:
    aside = set_aside("2024-03-01")
    for earlier in ((aside,), (aside, on("2024-09-01", points=(GONE,)))):
        (found,) = of_inlet(on("2025-06-02", points=(HERE,)), *earlier)
        assert (found.standing, found.on) == (Standing.NOT_AGAIN, "2024-03-01")
        assert found.before.severity is Severity.DANGER
        assert standing_grave([found], VisitKind.COMMISSIONING) == (found,)
    (found,) = of_inlet(on("2025-06-02", points=(GONE,)), aside)
    assert found.is_standing_grave
    looks = {"has_burn_marks": False, "is_pitted": False, "has_debris": False, "is_cracked": False}
    sound = on("2024-12-01", entry(INLET, POINT, 2, **looks), points=(HERE,))
    assert of_inlet(on("2025-06-02", points=(HERE,)), aside, sound) == []


def test_a_row_of_what_was_set_aside_closes_nothing() -> None:
    ended, found_there = on("2024-09-01", plug(**RIGHT)), on("2024-09-01", plug(**SMALL))
    (lost,) = [f for f in found_there.assessment.findings if f.row.check == PLUG]
    aside = SetAside(finding=lost, correction=1000, at=ended.visit.started, what="Bay 1")
    assessment = ended.assessment.model_copy(update={"set_aside": (aside,)})
    looked = Seen(ended.visit, assessment)
    assert of_plug(reinspections(ended, [FIRST])).standing is Standing.CLEARED
    found = of_plug(reinspections(looked, [FIRST]))
    assert found.is_open
    assert found.stands == "made again, not judged yet: a correction set it aside"
    found = of_plug(reinspections(on("2025-06-02"), [FIRST, looked]))
    assert (found.first_on, found.on, found.is_open) == ("2024-03-01", "2024-09-01", True)


def test_another_site_is_refused_and_the_visit_itself_counts_for_nothing() -> None:
    elsewhere = visit(id="x").site.model_copy(update={"name": "Another invented site"})
    far = judged(visit(id="x", site=elsewhere))
    with pytest.raises(SiteError, match="Compare visits to one site"):
        reinspections(on("2025-06-02"), [far])
    latest = on("2025-06-02", plug(**SMALL))
    assert reinspections(latest, [latest]) == ()


def test_the_order_of_the_visits_given_changes_nothing() -> None:
    seen = [FIRST, on("2024-09-01", plug(**RIGHT)), on("2025-01-01", plug(**SMALL))]
    latest: Seen = on("2025-06-02")
    assert isinstance(latest.visit, Visit)
    assert reinspections(latest, seen) == reinspections(latest, seen[::-1])
