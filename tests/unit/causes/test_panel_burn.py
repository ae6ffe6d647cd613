"""Service calls whose burn is in the panel. What is told apart is common practice, no source."""

from itertools import chain

import pytest

from checks.assess import assess
from checks.causes import Ranking, Standing
from checks.causes.ranking import BY_CAUSE
from checks.check import CircuitState, Situation
from checks.codes import profile
from checks.record import NotDone, NotDoneReason, Panel, Visit
from checks.stations.all import BY_ID
from checks.verdict import Severity, Verdict
from tests.builders import PANEL, POINT, entry, judge, visit
from tests.unit.causes.calls import (
    CHARGES,
    LEVEL_2,
    Plain,
    find,
    level_1_call,
    ranked,
    service_call,
    share,
)
from tests.unit.causes.test_next_test import LIVE, TOLD, proposals

TRIPS: Plain = {"breaker.trip_history": {"when": "hours", "kind": "overcurrent"}}
SMELL: Plain = {
    "panel.condition": {
        "has_heat_marks": True,
        "is_wet": False,
        "is_corroded": False,
        "has_openings": False,
    }
}
MARKED: Plain = {
    "breaker.condition": {"has_heat_marks": True, "is_damaged": False, "is_tripped_unknown": False}
}
UNMARKED: Plain = {
    "breaker.condition": {"has_heat_marks": False, "is_damaged": False, "is_tripped_unknown": False}
}


def inside(place: str = "", **over: bool) -> Plain:
    """The panel looked into: burnt at a place, or nowhere."""
    signs = ("is_neutral_loose", "is_double_tapped", "is_neutral_shared")
    said: dict[str, object] = {"has_heat_marks": bool(place), "neutrals": "tried"}
    said |= dict.fromkeys(signs, False) | over
    return {"panel.terminals": said | ({"place": place} if place else {})}


def joints(**over: bool) -> Plain:
    """The breaker looked at in its place and off its bus."""
    signs = ("is_lug_burnt", "is_rocking", "is_stab_burnt", "is_worn")
    return {"breaker.joints": dict.fromkeys(signs, False) | {"is_off_bus": True} | over}


def screws(found: str) -> Plain:
    return {"breaker.terminal_torque": {"occasion": "found", "found": found}}


HOT_LUG = service_call(LEVEL_2 | TRIPS | MARKED | screws("loose") | joints(is_lug_burnt=True))
TIGHT_LUG = service_call(
    LEVEL_2 | TRIPS | MARKED | inside("breaker") | screws("not loose") | joints(is_lug_burnt=True)
)
STAB = service_call(
    LEVEL_2 | TRIPS | MARKED | screws("not loose") | joints(is_rocking=True, is_stab_burnt=True)
)
NEUTRAL = level_1_call(
    {"charger.behavior": CHARGES | {"stops": "random"}}
    | SMELL
    | UNMARKED
    | inside("neutral", is_neutral_loose=True)
)
MAIN = service_call(
    LEVEL_2
    | {"charger.behavior": CHARGES}
    | SMELL
    | UNMARKED
    | inside("main")
    | screws("not loose")
)
WORN = service_call(LEVEL_2 | TRIPS | MARKED | screws("not loose") | joints(is_worn=True))
FOUND = [
    pytest.param(HOT_LUG, "loose_at_breaker", id="lug hot and loose"),
    pytest.param(TIGHT_LUG, "loose_at_breaker", id="lug burnt and tight"),
    pytest.param(STAB, "burnt_stab", id="stab"),
    pytest.param(NEUTRAL, "loose_neutral_bar", id="neutral bar"),
    pytest.param(MAIN, "loose_main_lug", id="main lug"),
    pytest.param(WORN, "worn_breaker", id="worn"),
]


@pytest.mark.parametrize(("made", "cause"), FOUND)
def test_where_it_is_burnt_is_what_is_proven_and_nothing_is_energised(made: Visit, cause: str):
    found = ranked(made)
    assert (found.causes[0].cause, found.causes[0].standing) == (cause, Standing.PROVEN)
    assert found.barred
    (point,) = assess(made, profile("nec_2023")).points
    assert [g.state for g in point.gates if g.is_open and g.state != "dead and proved"] == []


@pytest.mark.parametrize(("made", "cause"), FOUND)
def test_its_remedy_is_by_the_label_on_a_dead_panel_and_what_is_burnt_is_replaced(
    made: Visit, cause: str
):
    declared = BY_CAUSE[cause]
    assert "panel.absence_of_voltage" in declared.needs
    assert "panel dead and proved" in declared.remedy
    assert "replace" in declared.remedy
    torque = {"breaker.terminal_torque", "panel.terminal_torque"}
    assert torque & set(declared.verify), "what was landed anew is torqued by its label"


def test_a_burnt_stab_goes_with_its_breaker_and_is_never_dressed():
    remedies = [BY_CAUSE["burnt_stab"].remedy, judge(STAB, "breaker.joints").remedy]
    for remedy in remedies:
        assert "breaker and burnt bus together" in remedy
        assert "not filed" in remedy or "nothing is filed" in remedy
    assert {"panel.terminals", "breaker.joints"} <= set(BY_CAUSE["loose_at_breaker"].needs)


@pytest.mark.parametrize("place", ["breaker", "bus", "neutral", "main", "other"])
def test_a_burn_anywhere_in_the_panel_is_a_danger_that_says_where(place: str):
    made = service_call(inside(place))
    judged = judge(made, "panel.terminals", PANEL)
    assert (judged.verdict, judged.severity) == (Verdict.OUTSIDE, Severity.DANGER)
    assert "deepest mark" in judged.explanation
    assert ranked(made).barred == ("A part is burnt: no voltage before it is replaced",)


def test_marks_elsewhere_in_the_panel_prove_none_of_its_causes():
    found = ranked(service_call(LEVEL_2 | TRIPS | inside("other")))
    assert [c.cause for c in found.causes if c.standing is Standing.PROVEN] == []


# -- a smell, and nothing seen ---------------------------------------------------------------------
def test_a_smell_leads_into_the_dead_panel_and_never_to_a_live_test():
    asked = proposals(TOLD | LEVEL_2 | SMELL | UNMARKED)
    assert {"panel.terminals", "breaker.joints", "breaker.terminal_torque"} <= set(asked)
    assert [c for c in asked if BY_ID[c].state in LIVE] == []
    # of what is opened, the panel comes before what is far from it
    opened = [c for c in asked if BY_ID[c].state is CircuitState.DEAD]
    assert opened.index("panel.terminals") < opened.index("outlet.terminal_torque")


def test_a_smell_with_nothing_seen_inside_proves_nothing():
    clean = inside() | joints() | screws("not loose")
    found = ranked(service_call(TOLD | LEVEL_2 | SMELL | UNMARKED | clean))
    assert found.causes[0].standing is not Standing.PROVEN
    assert found.barred, "a smell that nobody explained gets no voltage"


def test_what_cannot_be_opened_is_not_proposed_once_the_panel_may_not_be_off():
    made = service_call(TOLD | LEVEL_2 | SMELL | UNMARKED)
    before = after_leaving_out(made, "outlet.grade", POINT)
    assert any(BY_ID[c].needs for c in before)
    after = after_leaving_out(made, "panel.absence_of_voltage", PANEL)
    assert after
    assert [c for c in after if "panel.absence_of_voltage" in BY_ID[c].needs] == []


def after_leaving_out(made: Visit, check: str, subject: str) -> list[str]:
    """What is proposed, one after the other, each left out."""
    asked: list[str] = []
    for number in range(200, 240):
        reason = NotDone(reason=NotDoneReason.NO_ACCESS, text="the owner needs the panel")
        left = entry("panel.condition", subject, number).model_copy(
            update={"check": check, "answers": (), "not_done": reason}
        )
        made = made.model_copy(update={"entries": (*made.entries, left)})
        test = ranked(made).next_test
        if test is None:
            return asked
        asked.append(test.check)
        check, subject = test.check, test.subject
    raise AssertionError("it never ends")


# -- which joint the charge passes ----------------------------------------------------------------
def test_a_neutral_carries_the_charge_at_120_volts_and_none_line_to_line():
    """Kirchhoff's current law: line to line nothing comes back by the neutral."""
    slow: Plain = {"charger.behavior": CHARGES | {"stops": "random", "is_slow": True}}
    at_120 = ranked(level_1_call(slow))
    at_240 = ranked(service_call(slow | LEVEL_2))
    assert share(at_120, "loose_neutral_bar") > 5 * share(at_240, "loose_neutral_bar")


def test_only_a_lug_that_can_be_dead_is_held_by_hand():
    """At service equipment the line side of the main stays live: NFPA 70E practice."""
    asked = {i.name for i in BY_ID["panel.terminals"].inputs}
    assert {"is_neutral_loose", "is_lug_loose"} <= asked
    service = service_call({})
    fed = service.model_copy(
        update={"panels": (Panel(id=PANEL, name="Sub", is_service_equipment=False),)}
    )
    assert not {"is_lug_loose", "feeder"} & names(service)
    assert {"is_lug_loose", "feeder"} <= names(fed)
    tried = {"neutrals", "is_neutral_loose", "feeder", "is_lug_loose"}
    assert not tried & names(visit()), "new work is torqued, not tried by hand"


SOUND: dict[str, object] = dict.fromkeys(
    ("has_heat_marks", "is_double_tapped", "is_neutral_shared"), False
)
FED = (Panel(id=PANEL, name="Sub", is_service_equipment=False),)


@pytest.mark.parametrize(
    ("said", "hands", "verdict"),
    [
        # NFPA 70E, from memory: a main that is off leaves its line side live
        ({"neutrals": "left", "feeder": "live"}, set(), Verdict.BORDERLINE),
        ({"neutrals": "left", "feeder": "dead"}, {"is_lug_loose"}, Verdict.BORDERLINE),
        ({"neutrals": "tried", "feeder": "live"}, {"is_neutral_loose"}, Verdict.BORDERLINE),
        (
            {"neutrals": "tried", "feeder": "dead"},
            {"is_neutral_loose", "is_lug_loose"},
            Verdict.WITHIN,
        ),
    ],
)
def test_no_hand_is_sent_to_a_lug_or_a_neutral_that_may_be_live(
    said: dict[str, object], hands: set[str], verdict: Verdict
):
    made = service_call({"panel.terminals": SOUND | said}, panels=FED)
    declared = BY_ID["panel.terminals"].at(Situation(made, profile("nec_2023"), PANEL))
    assert {i.name for i in declared.missing(made.entries[0])} == hands
    whole = SOUND | said | dict.fromkeys(hands, False)
    judged = judge(service_call({"panel.terminals": whole}, panels=FED), "panel.terminals", PANEL)
    assert judged.verdict is verdict, judged.explanation
    assert ("lugs were not tried" in judged.explanation) == (said["feeder"] == "live")
    assert ("No neutral was tried" in judged.explanation) == (said["neutrals"] == "left")


def test_what_was_not_tried_tells_nothing_of_a_loose_lug_and_one_that_moves_speaks_for_it():
    def of_lug(**said: object) -> float:
        made = service_call(LEVEL_2 | {"panel.terminals": SOUND | said}, panels=FED)
        return share(ranked(made), "loose_main_lug")

    unsaid = of_lug(neutrals="left")
    assert of_lug(neutrals="left", feeder="live") == unsaid
    moves = of_lug(neutrals="left", feeder="dead", is_lug_loose=True)
    assert moves > 5 * unsaid


def test_a_neutral_is_clamped_before_it_is_moved():
    """Common practice, no source: it may be the return of another circuit that is on."""
    (told,) = [c.text for c in BY_ID["panel.terminals"].cautions if "neutral" in c.text]
    assert "clamp it first" in told
    assert "neutral of service or feeder" in told


def names(made: Visit) -> set[str]:
    here = Situation(made, profile("nec_2023"), PANEL)
    return {i.name for i in BY_ID["panel.terminals"].at(here).inputs}


def test_a_breaker_that_stays_on_its_bus_shows_no_stab():
    stays = {"is_lug_burnt": False, "is_rocking": False, "is_off_bus": False}
    judged = judge(service_call({"breaker.joints": stays}), "breaker.joints")
    assert judged.verdict is Verdict.BORDERLINE
    assert "its stab was not seen" in judged.explanation
    before, after = (
        ranked(service_call(LEVEL_2 | TRIPS | MARKED | more))
        for more in ({}, {"breaker.joints": stays})
    )
    assert share(after, "burnt_stab") > share(before, "burnt_stab") / 2, "unseen is not sound"
    sound = judge(service_call(joints()), "breaker.joints")
    assert sound.verdict is Verdict.WITHIN


def test_all_of_it_is_seen_on_a_panel_that_is_dead():
    for check in ("panel.terminals", "breaker.joints", "panel.terminal_torque"):
        declared = BY_ID[check]
        assert declared.state is CircuitState.DEAD
        assert "panel.absence_of_voltage" in declared.needs
    words = list(chain.from_iterable(_texts(c) for c in ("panel.terminals", "breaker.joints")))
    assert sum("leave this out and say why" in w for w in words) == 2


def _texts(check: str) -> tuple[str, ...]:
    return (BY_ID[check].how, *(c.text for c in BY_ID[check].cautions))


def test_every_new_cause_says_what_speaks_for_it():
    for made, cause in ((p.values[0], p.values[1]) for p in FOUND):
        assert isinstance(made, Visit)
        one = find(found := ranked(made), str(cause))
        assert isinstance(found, Ranking)
        assert one is not None
        assert one.speaks_for
