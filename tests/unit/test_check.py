"""Declarations, and what a judge may read."""

import math
from dataclasses import replace
from typing import Any

import pytest

from checks.check import (
    Check,
    Choice,
    CircuitState,
    Measurement,
    Option,
    Rating,
    Situation,
    When,
    Words,
    YesNo,
    latest_entries,
    not_measured,
)
from checks.codes import profile
from checks.path import Station
from checks.quantity import Accuracy, expanded, nominal
from checks.record import (
    SITE,
    Chosen,
    Entry,
    Instrument,
    InstrumentKind,
    Panel,
    Reading,
    Readings,
    Role,
    SupplySystem,
    Visit,
    VisitKind,
    Worded,
    YesNoAnswer,
)
from checks.units import Dimension
from tests.builders import NOON, PANEL, POINT, point, visit

NEC = profile("nec_2023")

CHAIN = Check(
    id="outlet.chain",
    title="A chain of questions",
    how="Look.",
    inputs=(
        YesNo("is_present", "There"),
        Choice(
            "kind", "Kind", options=(Option("a"), Option("b")), when=When("is_present", ("yes",))
        ),
        Rating("size", "Size", when=When("kind", ("b",))),
        Words("remark", "Remark", optional=True),
    ),
    judge=lambda _: not_measured("nothing yet"),
)


def made(
    check: str = "outlet.chain", subject: str = POINT, number: int = 1, *answers: Any
) -> Entry:
    return Entry(number=number, check=check, subject=subject, at=NOON, answers=answers)


def volts(name: str, value: str, instrument: str | None = None, unit: str = "V") -> Reading:
    return Reading(input=name, value=value, unit=unit, at=NOON, instrument=instrument)


def situation(of: Visit, subject: str = POINT) -> Situation:
    return Situation(of, NEC, subject)


# -- the declaration -----------------------------------------------------------------------------
def names(inputs: tuple[Any, ...]) -> list[str]:
    return [i.name for i in inputs]


def test_a_question_is_asked_after_the_answer_it_hangs_on():
    yes, kind = YesNoAnswer(input="is_present", yes=True), Chosen(input="kind", option="b")
    assert names(CHAIN.asked(None)) == ["is_present", "remark"]
    assert names(CHAIN.asked(made("outlet.chain", POINT, 1, yes))) == [
        "is_present",
        "kind",
        "remark",
    ]
    full = made("outlet.chain", POINT, 1, yes, kind)
    assert names(CHAIN.asked(full)) == ["is_present", "kind", "size", "remark"]
    assert names(CHAIN.missing(full)) == ["size"]


def test_what_hangs_on_a_question_that_is_not_asked_is_not_asked():
    no, stale = YesNoAnswer(input="is_present", yes=False), Chosen(input="kind", option="b")
    assert names(CHAIN.asked(made("outlet.chain", POINT, 1, no, stale))) == ["is_present", "remark"]


def test_an_installation_is_asked_only_for_what_it_has():
    def is_wye(s: Situation) -> bool:
        return s.visit.system is SupplySystem.WYE_208

    asked = replace(
        CHAIN,
        inputs=(
            YesNo("is_third", "Third line", where=is_wye),
            Choice("pair", "Pair", options=(Option("a"), Option("b", where=is_wye))),
        ),
    )
    wye = visit(system=SupplySystem.WYE_208, points=(point(nominal_v=208),))
    (pair,) = asked.at(situation(visit())).inputs
    assert [o.value for o in pair.options] == ["a"]
    assert asked.at(situation(wye)) is asked
    assert CHAIN.at(situation(visit())) is CHAIN


def test_a_check_belongs_to_the_station_its_id_names():
    assert CHAIN.station is Station.OUTLET
    assert CHAIN.input("size") is CHAIN.inputs[2]
    assert CHAIN.input("weight") is None


@pytest.mark.parametrize(
    ("fields", "over", "why"),
    [
        ({}, {}, ""),
        ({"kinds": (VisitKind.SERVICE_CALL,)}, {}, "not part of a commissioning"),
        ({"opens": True}, {}, ""),
        ({"opens": True}, {"role": Role.INSPECTS}, "who inspects opens nothing"),
        ({"opens": True}, {"role": Role.SERVES}, ""),
        ({"state": CircuitState.DEAD}, {"role": Role.INSPECTS}, "proved dead"),
        ({"state": CircuitState.UNDER_LOAD}, {"role": Role.INSPECTS}, ""),
        ({"applies": lambda _: "no receptacle here"}, {}, "no receptacle here"),
    ],
)
def test_a_check_says_why_it_does_not_belong_here(
    fields: dict[str, Any], over: dict[str, Any], why: str
):
    check = Check(**{**vars(CHAIN), **fields})
    found = check.not_here_because(situation(visit(**over)))
    assert (why in found) if why else not found


# -- what a judge may read -----------------------------------------------------------------------
TWO_PANELS: dict[str, Any] = {
    "panels": (Panel(id=PANEL, name="A"), Panel(id="panel-b", name="B")),
    "points": (point(), point(id="bay-2", panel="panel-b")),
}


def test_a_reference_is_looked_up_where_its_station_is_recorded():
    of = visit(
        **TWO_PANELS,
        entries=(
            made("service.x", SITE, 1, Chosen(input="y", option="site")),
            made("panel.x", PANEL, 2, Chosen(input="y", option="panel a")),
            made("panel.x", "panel-b", 3, Chosen(input="y", option="panel b")),
            made("outlet.x", POINT, 4, Chosen(input="y", option="bay 1")),
            made("outlet.x", "bay-2", 5, Chosen(input="y", option="bay 2")),
        ),
    )
    first, second = situation(of), situation(of, "bay-2")
    assert [s.choice("panel.x.y") for s in (first, second)] == ["panel a", "panel b"]
    assert [s.choice("outlet.x.y") for s in (first, second)] == ["bay 1", "bay 2"]
    assert [s.choice("service.x.y") for s in (first, second)] == ["site", "site"]
    at_panel = situation(of, "panel-b")
    assert at_panel.choice("panel.x.y") == "panel b"
    assert at_panel.choice("outlet.x.y") is None
    assert [s.choice("outlet.x.y") for s in at_panel.points] == ["bay 2"]
    assert len(situation(of, SITE).points) == 2
    assert second.panel.name == "B"


def test_the_highest_number_counts_whatever_the_order_in_the_file():
    early = made("outlet.x", POINT, 3, Chosen(input="y", option="early"))
    late = made("outlet.x", POINT, 7, Chosen(input="y", option="late"))
    assert latest_entries(visit(entries=(late, early))) == {("outlet.x", POINT): late}
    assert situation(visit(entries=(late, early))).choice("outlet.x.y") == "late"


def test_each_accessor_answers_only_its_own_kind():
    s = situation(
        visit(
            entries=(
                made(
                    "outlet.x",
                    POINT,
                    1,
                    Chosen(input="choice", option="a"),
                    YesNoAnswer(input="yes", yes=False),
                    Worded(input="words", text="ab12"),
                    volts("number", "32", unit="kA"),
                    Readings(input="series", readings=(volts("series", "21.5", unit="°C"),)),
                ),
            )
        )
    )
    assert s.choice("outlet.x.choice") == "a"
    assert s.yes("outlet.x.yes") is False
    assert s.words("outlet.x.words") == "ab12"
    assert s.rating("outlet.x.number") == 32000.0
    assert [(at, nominal(c)) for at, c in s.series("outlet.x.series")] == [(NOON, 21.5)]
    for wrong in ("yes", "words", "number", "series", "absent"):
        assert s.choice(f"outlet.x.{wrong}") is None
    assert s.yes("outlet.x.choice") is s.words("outlet.x.choice") is None
    assert s.rating("outlet.x.choice") is s.measured("outlet.x.choice") is None
    assert s.series("outlet.x.number") == ()


# -- uncertainty: one meter, two readings --------------------------------------------------------
METER = Instrument(
    id="meter",
    kind=InstrumentKind.MULTIMETER,
    name="Meter",
    accuracy=(Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=3),),
)
SECOND = METER.model_copy(update={"id": "second"})


def readings(first: str | None, second: str | None) -> Situation:
    entry = made("outlet.x", POINT, 1, volts("a", "243.1", first), volts("b", "236.4", second))
    return situation(visit(instruments=(METER, SECOND), entries=(entry,)))


# GUM, JCGM 100:2008, 5.1.2 and 5.2.2: independent counts, and a gain that is common or not.
COUNTS = 2 * (0.3 / math.sqrt(3)) ** 2
COMMON = 2 * math.sqrt((0.01 * (243.1 - 236.4) / math.sqrt(3)) ** 2 + COUNTS)
APART = 2 * math.sqrt(((0.01 * 243.1) ** 2 + (0.01 * 236.4) ** 2) / 3 + COUNTS)


@pytest.mark.parametrize(
    ("first", "second", "spread"),
    [("meter", "meter", COMMON), ("meter", "second", APART), (None, None, APART)],
)
def test_only_two_readings_by_one_named_meter_share_its_gain(
    first: str | None, second: str | None, spread: float
):
    s = readings(first, second)
    a, b = s.measured("outlet.x.a"), s.measured("outlet.x.b")
    assert a is not None
    assert b is not None
    # the class of an unnamed meter is the same ±(1 % + 3) as this one's
    assert expanded(a - b) == pytest.approx(spread, rel=1e-9)


def test_readings_of_equal_digits_are_two_even_where_one_object_holds_both():
    reading = volts("a", "243.1", "meter")
    entries = made("outlet.x", POINT, 1, reading), made("outlet.y", POINT, 2, reading)
    s = situation(visit(instruments=(METER,), entries=entries))
    first, second = s.measured("outlet.x.a"), s.measured("outlet.y.a")
    assert first is not None
    assert second is not None
    assert expanded(first - second) == pytest.approx(2 * math.sqrt(COUNTS), rel=1e-9)


@pytest.mark.parametrize("meter", ["meter", None])
def test_a_reading_asked_for_twice_is_one_number(meter: str | None):
    s = readings(meter, meter)
    first, again = s.measured("outlet.x.a"), s.measured("outlet.x.a")
    assert first is not None
    assert again is not None
    assert expanded(first - again) == 0.0
    assert expanded(s.points[0].measured("outlet.x.a") - first) == 0.0


def test_a_measurement_is_what_a_declaration_says():
    asked = Measurement("a", "A", dimension=Dimension.VOLTAGE)
    assert (asked.units, asked.optional, asked.signed) == (("V",), False, False)


def test_the_answers_of_a_question_say_what_is_seen_and_the_sound_one_comes_first():
    cracked = YesNo("is_cracked", "Cracked parts", good=False, says=("Cracked", "Whole"))
    held = YesNo("is_held", "Holds on a pull", good=True, says=("Holds", "Lets go"))
    bare = YesNo("is_old", "Old", good=False)
    assert cracked.answers == (("no", "Whole"), ("yes", "Cracked"))
    assert held.answers == (("yes", "Holds"), ("no", "Lets go"))
    assert bare.answers == (("yes", "Yes"), ("no", "No"))
    assert [cracked.words(yes=True), cracked.words(yes=False)] == ["Cracked", "Whole"]
