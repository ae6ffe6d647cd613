"""Which cautions are acknowledged, and which stand in view because they were in this state.

Our own rule: the third time the same words are only tapped away.
"""

import pytest

from checks.check import CASE_UNREAD, CircuitState
from checks.stations.all import BY_ID
from checks.verdict import Severity
from tests.builders import POINT, entry, point
from tests.unit.walk.reopened import LOCKED, Walks, plausible_but, said_to_be

SOUND = {i.name: False for i in BY_ID["connector.pins"].inputs}


def test_a_caution_acknowledged_in_this_state_stands_in_view_and_is_not_asked_again(walks: Walks):
    w = walks()
    w.makes("connector.pins", *plausible_but("connector.pins", "no"))
    w.do(lambda walk: walk.begin("charger.mounting"))
    assert (w.walk.awaits_cautions, w.walk.cautions_in_view) == ((), (CASE_UNREAD,))
    w.do(lambda walk: walk.answer("yes"))
    w.do(lambda walk: walk.undo())  # what was acknowledged is taken back with its entry
    w.do(lambda walk: walk.begin("charger.mounting"))
    assert (w.walk.awaits_cautions, w.walk.cautions_in_view) == ((CASE_UNREAD,), ())


def test_the_record_names_a_caution_where_it_was_acknowledged(walks: Walks):
    w = walks()
    w.makes("connector.pins", *plausible_but("connector.pins", "no"))
    w.makes("surroundings.reach", *plausible_but("surroundings.reach", "yes"))
    assert [e.cautions for e in w.walk.visit.entries] == [(CASE_UNREAD.text,), ()]


def test_a_caution_before_a_number_is_asked_each_time(walks: Walks):
    w = walks()
    w.makes("connector.pins", *plausible_but("connector.pins", "no"))
    w.do(lambda walk: walk.begin("charger.cable"))  # its length comes first
    assert w.walk.awaits_cautions == (CASE_UNREAD,)


def test_a_danger_is_acknowledged_each_time(walks: Walks):
    w = walks()
    w.do(lambda walk: walk.enter_state(CircuitState.DEAD))
    w.makes("breaker.lock_and_tag", *LOCKED)
    w.do(lambda walk: walk.begin("breaker.lock_and_tag"))
    assert {c.signal for c in w.walk.awaits_cautions} == {Severity.DANGER}


@pytest.mark.parametrize("made", [{"at": "2025-06-01T12:00:00Z"}, {"number": 1}, {"subject": "b"}])
def test_another_day_another_state_or_another_charger_asks_anew(walks: Walks, made):
    seen = entry("connector.pins", POINT, 2, **SOUND).model_copy(
        update={"cautions": (CASE_UNREAD.text,), **made}
    )
    number = 1 if seen.number > 1 else 2
    bays = (point(), point(id="b", name="Bay 2"))
    w = walks(points=bays, entries=(seen,), states=(said_to_be("dead and proved", number),))
    w.do(lambda walk: walk.begin("charger.mounting"))
    assert w.walk.awaits_cautions == (CASE_UNREAD,)
