"""What was found grave and stands no more since a correction is told. The rule is our own."""

from typing import Any

import pytest

from checks.assess import (
    Assessment,
    Assessor,
    assess,
    each_set_aside,
    lost,
    meaning,
    set_aside,
    told_aside,
)
from checks.codes import profile
from checks.record import Correction, Coupler, NotDone, NotDoneReason, Visit
from checks.verdict import Severity, Verdict
from tests.builders import NOON, POINT, conductor, entry, point, visit

INLET = "vehicle.inlet_condition"
HERE, NONE = point(inlet=Coupler.TYPE_1), point(inlet=None)
BURNT = entry(INLET, POINT, 1, has_burn_marks=True)
SOUND = {"has_burn_marks": False, "is_pitted": False, "has_debris": False, "is_cracked": False}


def found(made: Visit) -> Assessment:
    judged = assess(made, profile(made.code))
    assert Assessor(profile(made.code)).assess(made) == judged
    return judged


def gone(*more: Any, points: tuple = (NONE,), **over: Any) -> Visit:
    """A burnt inlet, and then it is said that no vehicle is here."""
    made = (Correction(number=2, at=NOON, points=(HERE,)), *over.pop("corrections", ()))
    return visit(points=points, entries=(BURNT, *more), corrections=made, **over)


def test_a_danger_whose_check_is_asked_no_more_is_told() -> None:
    made = gone()
    judged = found(made)
    assert judged.findings == ()
    (aside,) = judged.set_aside
    assert (aside.finding.severity, aside.correction, aside.what) == (Severity.DANGER, 2, "Bay 1")
    assert "Nothing wrong" not in meaning(judged)
    assert "set aside by a correction and may be so yet" in meaning(judged)
    assert "Vehicle's inlet (Bay 1)" in set_aside(made, judged)
    (said,) = each_set_aside(made, judged)
    assert "set aside by the correction of Bay 1: Burn marks" in said


def test_it_is_told_by_the_name_that_a_place_has_now() -> None:
    first = gone()
    growing = Assessor(profile(first.code))
    assert growing.assess(first).set_aside[0].what == "Bay 1"
    garage = (NONE.model_copy(update={"name": "Garage"}),)
    renamed = gone(points=garage, corrections=(Correction(number=3, at=NOON, points=(NONE,)),))
    assert growing.assess(renamed) == found(renamed)
    assert found(renamed).set_aside[0].what == "Garage"


def test_nothing_is_told_of_what_stands_as_it_was_found() -> None:
    for made in (
        visit(points=(HERE,), entries=(BURNT,)),
        gone(points=(HERE,), corrections=(Correction(number=3, at=NOON, points=(NONE,)),)),
        visit(points=(NONE,), corrections=(Correction(number=2, at=NOON, points=(HERE,)),)),
    ):
        judged = found(made)
        assert judged.set_aside == ()
        assert set_aside(made, judged) == ""
        assert "set aside" not in meaning(judged)


@pytest.mark.parametrize("is_left_out", [True, False])
def test_it_is_told_until_it_was_looked_at_again(is_left_out: bool) -> None:
    again = entry(INLET, POINT, 4, **SOUND)
    if is_left_out:
        left = NotDone(reason=NotDoneReason.NO_ACCESS)
        again = again.model_copy(update={"answers": (), "not_done": left})
    back = (
        Correction(number=3, at=NOON, points=(NONE,)),
        Correction(number=5, at=NOON, points=(HERE,)),
    )
    judged = found(gone(again, corrections=back))
    assert bool(judged.set_aside) == is_left_out
    assert [a.correction for a in judged.set_aside] == ([5] if is_left_out else [])


def test_what_another_code_finds_less_grave_is_told_and_raises_no_alarm() -> None:
    made = long_run()
    before = made.as_recorded(9)
    judged = found(made)

    def severity(of: Assessment) -> list[Severity]:
        return [f.severity for f in of.findings if f.row.check == "run.length"]

    assert severity(found(before)) == [Severity.WARNING]
    assert severity(judged) == [Severity.NOTICE]
    (aside,) = judged.set_aside
    assert (aside.finding.row.check, aside.is_judged_anew, judged.may_be_so) == (
        "run.length",
        True,
        (),
    )
    assert set_aside(made, judged) == ""
    (said,) = each_set_aside(made, judged)
    for words in (said, dict(told_aside(made, judged))[Severity.NOTICE]):
        assert "under the code named before" in words
        assert "may be so" not in words
    assert lost(found(before), judged) == (aside.finding,)
    assert lost(judged, found(before)) == ()


def test_what_lies_within_by_the_code_named_now_is_no_alarm() -> None:
    """A point that is corrected too puts it in doubt: something else may be there."""
    check = "outlet.ground_fault"
    code = Correction(number=10, at=NOON, code="nec_2023")
    both = Correction(number=10, at=NOON, code="nec_2023", points=(point(name="Bay 9"),))
    for made, is_anew in ((code, True), (both, False)):
        unprotected = visit(
            code="cec_2021",
            entries=(
                entry("breaker.rating", POINT, 1, rated_a="50 A", poles="2"),
                entry("surroundings.place", POINT, 2, location="dry indoors", wetness="dry"),
                entry("outlet.configuration", POINT, 3, kind="14-50", count="single"),
                entry(check, POINT, 4, device="none"),
            ),
            corrections=(made,),
        )
        judged = found(unprotected)
        assert judged.row(check, POINT).judgement.verdict is Verdict.WITHIN
        (aside,) = (a for a in judged.set_aside if a.finding.row.check == check)
        assert aside.finding.severity is Severity.WARNING
        assert aside.is_judged_anew is is_anew
        assert (aside in judged.may_be_so) is not is_anew


def long_run() -> Visit:
    """60 m of 6 AWG at 40 A: a rule of the one code, a recommendation of the other."""
    return visit(
        code="nec_2023",
        entries=(
            entry("run.conductor", POINT, 1, **conductor("6 AWG")),
            entry("breaker.rating", POINT, 2, rated_a="50 A", poles="2"),
            entry("charger.nameplate", POINT, 3, rated_a="40 A", volts="208-240"),
            entry("charger.configuration", POINT, 4, configured_a="40 A"),
            entry("run.length", POINT, 5, basis="measured", length="60.0 m"),
        ),
        corrections=(Correction(number=10, at=NOON, code="cec_2021"),),
    )


def test_a_name_that_is_corrected_sets_nothing_aside_and_the_worst_is_told_first() -> None:
    plug = entry("adapter.pins", POINT, 3, is_pitted=True)
    adapted = point(inlet=Coupler.J3400, name="Bay 9")
    made = visit(
        points=(NONE,),
        entries=(plug, entry(INLET, POINT, 4, has_burn_marks=True)),
        corrections=(
            Correction(number=5, at=NOON, points=(adapted,)),
            Correction(number=6, at=NOON, points=(adapted.model_copy(update={"name": "Bay 1"}),)),
        ),
    )
    asides = found(made).set_aside
    assert asides[0].finding.row.check == INLET
    assert {a.correction for a in asides} == {6}
    ranks = [list(Severity).index(a.finding.severity) for a in asides]
    assert ranks == sorted(ranks)
    assert all(a.finding.row.judgement.verdict is Verdict.OUTSIDE for a in asides)


def test_a_record_is_given_back_as_it_was_at_a_number() -> None:
    made = gone(entry("connector.pins", POINT, 3, is_pitted=False))
    assert made.as_recorded(1).points == (HERE,)
    assert [e.number for e in made.as_recorded(2).entries] == [1]
    assert (made.as_recorded(1).corrections, len(made.as_recorded(2).corrections)) == ((), 1)
    assert made.as_recorded(3) == made.model_copy(update={"revision": 0, "signoff": None})
