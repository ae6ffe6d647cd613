"""Trends over visits: which point it was, what changed, and when a limit would be met."""

from typing import Any

import pytest
from uncertainties import ufloat

from checks.assess import assess
from checks.check import tracked
from checks.codes import profile
from checks.record import Site, Visit
from checks.source import trade
from checks.trends import Seen, SiteError, trends
from checks.units import Number
from checks.verdict import Force, Severity, at_most
from tests.builders import POINT, entry, point, visit

NEC = profile("nec_2023")
GRIP = "outlet.retention"


def seen(year: int, newtons: str = "", month: int = 6, day: int = 2, **over: Any) -> Seen:
    """A visit of that year that gauged the ground contact."""
    made = visit(id=f"v{year}-{month}", started=f"{year}-{month:02d}-{day:02d}T12:00:00Z", **over)
    if newtons:
        gauged = entry(GRIP, POINT, 1, feel="firm", ground_force=f"{newtons} N")
        gauged = gauged.model_copy(update={"at": made.started})
        made = made.model_copy(update={"entries": (gauged, *made.entries)})
    return judged(made)


def judged(made: Visit) -> Seen:
    return Seen(made, assess(made, NEC))


def test_a_grip_that_falls_is_followed_to_its_limit_whatever_the_order_given() -> None:
    # 4.00, 3.00, 2.00 N: one newton a year, from 2.00 to 1.112 N in 0.888 years (NFPA 99, 4 oz)
    (found,) = trends(seen(2025, "2.00"), [seen(2024, "3.00"), seen(2023, "4.00")])

    assert [r.on[:4] for r in found.readings] == ["2023", "2024", "2025"]
    assert found.is_seen
    assert found.is_straight
    assert float(found.per_year.value) == pytest.approx(-1.0, abs=0.02)
    assert found.crossing.startswith("2026-04")
    assert found.earliest < found.crossing
    assert found.severity is Severity.CAUTION  # met before the next visit is expected
    assert f"mended before {found.earliest[:7]}" in found.remedy  # it may be as soon as that


def test_a_crossing_after_the_next_visit_is_said_and_is_no_finding() -> None:
    (found,) = trends(seen(2025, "5.00"), [seen(2024, "7.00")])

    assert found.crossing.startswith("2027")
    assert "it meets its limit, at least 1.112 N, about 2027-" in found.explanation
    assert found.severity is None


def test_a_change_that_the_gauges_cannot_see_is_said_to_be_none() -> None:
    # 2 % + 2 counts of 0.1 N
    (found,) = trends(seen(2025, "6.0"), [seen(2024, "6.1")])

    assert not found.is_seen
    assert "no change that these meters can see" in found.explanation
    assert found.crossing == ""


@pytest.mark.parametrize(
    ("earlier", "words"),
    [("1.50", "it goes away from its limit"), ("6.50", "farther off than these visits can tell")],
)
def test_what_meets_no_limit_soon_is_said_as_it_is(earlier: str, words: str) -> None:
    (found,) = trends(seen(2025, "6.00"), [seen(2024, earlier)])

    assert words in found.explanation
    assert found.crossing == ""


def test_visits_that_do_not_lie_on_a_line_give_no_date() -> None:
    (found,) = trends(seen(2025, "3.00"), [seen(2024, "7.00"), seen(2023, "6.00")])

    assert not found.is_straight
    assert found.crossing == ""
    assert "no date can be given" in found.explanation


def test_what_was_found_before_a_mending_was_of_another_joint() -> None:
    mended = seen(2024, "7.00")
    entries = tuple(e.model_copy(update={"after_mending": True}) for e in mended.visit.entries)
    after = judged(mended.visit.model_copy(update={"entries": entries}))
    (found,) = trends(seen(2025, "6.90"), [after, seen(2022, "2.00")])

    assert [r.visit for r in found.readings] == ["v2024-6", "v2025-6"]


def test_a_point_is_known_again_by_its_name_however_it_is_spelled() -> None:
    renamed = point(id="c7", name="  Bay   2 ")
    before = seen(2024, "4.00", points=(point(name="bay 2"),))
    now = judged(
        seen(2025).visit.model_copy(
            update={
                "points": (renamed,),
                "entries": (entry(GRIP, "c7", 1, feel="firm", ground_force="3.00 N"),),
            }
        )
    )

    (found,) = trends(now, [before])
    assert found.point == "c7"


def test_a_renamed_point_is_known_by_the_number_of_its_charger() -> None:
    def plate(number: int, serial: str) -> Any:
        return entry("charger.nameplate", POINT, number, serial=serial)

    def with_plate(found: Seen, serial: str) -> Seen:
        entries = (*found.visit.entries, plate(2, serial))
        return judged(found.visit.model_copy(update={"entries": entries}))

    before = with_plate(seen(2024, "4.00", points=(point(name="Left"),)), "A-1")
    now = seen(2025, "3.00", points=(point(name="Bay 1"),))

    assert len(trends(with_plate(now, "a-1"), [before])) == 1
    assert trends(with_plate(now, "B-2"), [before]) == ()
    assert trends(now, [before]) == ()


@pytest.mark.parametrize(
    "earlier", [[], [seen(2024)], [seen(2025, "4.00", month=5, day=9)], [seen(2025, "3.00")]]
)
def test_nothing_is_compared_without_a_value_of_a_month_before(earlier: list[Seen]) -> None:
    assert trends(seen(2025, "3.00"), earlier[:1]) == ()


def test_it_is_to_be_mended_before_the_first_day_that_is_not_ruled_out() -> None:
    # 30 to 45 K in two years, each ±2 K: 7.5 ± 1.4 K a year meet 50 K in 0.67 years, or in 0.56
    now = with_rise(seen(2025, "3.00"), ufloat(45.0, 1.0), 32.0)
    (found,) = trends(now, [with_rise(seen(2023, "3.00"), ufloat(30.0, 1.0), 32.0)])

    assert (found.crossing[:7], found.earliest[:7]) == ("2026-01", "2025-12")
    assert found.severity is Severity.CAUTION
    assert "mended before 2025-12" in found.remedy


def with_rise(found: Seen, rise_k: Number, at_a: float) -> Seen:
    """The same visit, with a rise of temperature instead of a grip."""
    limit = at_most(50.0, "K", Force.TRADE_JUDGEMENT, trade("an example"))
    here = found.assessment.row(GRIP, POINT)
    rise = tracked(rise_k, "K", (limit,), of="rise", at_a=at_a)
    row = here.model_copy(
        update={"judgement": here.judgement.model_copy(update={"tracked": (rise,)})}
    )
    rows = tuple(row if r is here else r for r in found.assessment.rows)
    return Seen(found.visit, found.assessment.model_copy(update={"rows": rows}))


def test_a_rise_of_an_earlier_visit_is_brought_to_the_current_of_the_latest() -> None:
    # 10 K at 16 A are 30.3 K to 40 K at 32 A: exponents 1.6 to 2
    before, now = (
        with_rise(seen(2024, "3.00"), 10.0, 16.0),
        with_rise(seen(2025, "3.00"), 38.0, 32.0),
    )
    (found,) = trends(now, [before])

    assert float(found.readings[0].amount.value) == pytest.approx((10 * 2**1.6 + 40) / 2, abs=0.1)
    assert not found.is_seen


def test_visits_to_two_sites_are_refused() -> None:
    other = seen(2024, "4.00", site=Site(name="Another invented site"))
    with pytest.raises(SiteError, match="not of Invented site"):
        trends(seen(2025, "3.00"), [other])
