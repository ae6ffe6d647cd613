"""What the library of causes must be, read from its declarations."""

import re
from collections import Counter

import pytest

from checks.causes.cause import Cause, shares
from checks.causes.clue import Clue
from checks.causes.clues import CLUES
from checks.causes.library import CAUSES
from checks.causes.next_test import MINUTES
from checks.causes.safety import BURNT, DAMAGED, WET
from checks.check import CircuitState, YesNo, everywhere
from checks.path import Station
from checks.source import Basis
from checks.stations.all import BY_ID
from checks.stations.observing import CIRCUIT_DEAD
from checks.verdict import Severity

BY_CLUE = {c.id: c for c in CLUES}
EACH = [pytest.param(c, id=c.id) for c in CAUSES]
EACH_CLUE = [pytest.param(c, id=c.id) for c in CLUES]


def test_there_are_thirty_causes_or_more_each_once():
    assert len(CAUSES) >= 30
    assert [k for k, n in Counter(c.id for c in CAUSES).items() if n > 1] == []
    assert [k for k, n in Counter(c.title for c in CAUSES).items() if n > 1] == []


@pytest.mark.parametrize("cause", EACH)
def test_a_cause_has_evidence_a_test_that_proves_it_a_remedy_and_its_proof_of_repair(cause: Cause):
    assert cause.weight > 0
    assert cause.severity in set(Severity)
    assert all(len(t.split()) >= 4 for t in (cause.explanation, cause.remedy))
    assert cause.verify
    assert [c for c in cause.verify if c not in BY_ID] == []
    assert cause.proofs
    for proof in cause.proofs:
        assert BY_CLUE[proof.clue].outcome(proof.outcome)
        assert cause.says(proof.clue)[proof.outcome].ratio > 1, "a proof speaks for its cause"


@pytest.mark.parametrize("cause", EACH)
def test_a_ratio_names_an_outcome_that_exists_has_a_basis_and_leaves_room_for_the_others(
    cause: Cause,
):
    named = Counter((e.clue, e.outcome) for e in cause.evidence)
    assert [k for k, n in named.items() if n > 1] == []
    for one in cause.evidence:
        assert BY_CLUE[one.clue].outcome(one.outcome)
        assert 1e-3 <= one.ratio <= 1e3
        assert one.basis.document.strip()
        assert one.basis.basis in set(Basis)
    for clue in {e.clue for e in cause.evidence}:
        found = shares(cause, BY_CLUE[clue])
        assert sum(found.values()) == pytest.approx(1.0)
        assert min(found.values()) > 5e-4, f"{clue}: {found}"


@pytest.mark.parametrize("cause", EACH)
def test_what_a_ratio_says_is_what_is_reckoned_with(cause: Cause):
    """A cause that speaks of every outcome is normalized; that must not bend what is written."""
    for clue in {e.clue for e in cause.evidence}:
        found = shares(cause, BY_CLUE[clue])
        for outcome, one in cause.says(clue).items():
            reckoned = found[outcome] / BY_CLUE[clue].outcome(outcome).usual
            assert reckoned == pytest.approx(one.ratio, rel=0.08)


@pytest.mark.parametrize("clue", EACH_CLUE)
def test_a_clue_is_read_from_a_declared_check_and_its_usual_shares_sum_to_one(clue: Clue):
    assert clue.check in BY_ID
    assert sum(o.usual for o in clue.outcomes) == pytest.approx(1.0)
    assert min(o.usual for o in clue.outcomes) > 0
    assert not clue.normal or clue.outcome(clue.normal)
    assert all(len(o.words.split()) >= 3 for o in clue.outcomes)
    assert set(clue.rests_on) <= set(BY_ID) - {clue.check}
    for value, hidden in clue.leaves_open.items():
        assert clue.rests_on, "nothing would tell them apart"
        assert clue.outcome(value).value not in hidden
        assert len([clue.outcome(each) for each in hidden]) > 1


def test_every_clue_speaks_of_some_cause_and_has_a_name_of_its_own():
    assert [k for k, n in Counter(c.id for c in CLUES).items() if n > 1] == []
    assert set(BY_CLUE) == {e.clue for c in CAUSES for e in c.evidence}


def test_no_two_causes_say_the_same_of_everything():
    told = Counter(
        tuple(sorted((e.clue, e.outcome, e.ratio) for e in c.evidence if e.clue not in ("stuck",)))
        for c in CAUSES
    )
    assert [k for k, n in told.items() if n > 1] == []


def test_what_keeps_voltage_off_is_asked_somewhere():
    for reference in (*BURNT, *WET, *DAMAGED):
        check, _, name = reference.rpartition(".")
        assert isinstance(BY_ID[check].input(name), YesNo)
    assert set(MINUTES) <= set(BY_ID)


def test_no_cause_is_settled_by_what_could_hurt_someone():
    forbidden = re.compile(r"\b(reset|swap|exchange|bypass|pry)\b", re.I)
    tests = {BY_CLUE[p.clue].check for c in CAUSES for p in c.proofs}
    assert [
        t for t in tests if forbidden.search(BY_ID[t].how) and "never" not in BY_ID[t].how.lower()
    ] == []
    in_state = Counter(BY_ID[t].state for t in tests)
    assert in_state[CircuitState.ANY] > in_state[CircuitState.UNDER_LOAD]


@pytest.mark.parametrize("cause", EACH)
def test_what_is_opened_for_a_remedy_is_proved_dead_first(cause: Cause):
    says_dead = re.search(r"\b(circuit|panel) dead and proved", cause.remedy)
    wanted = f"{says_dead[1]}.absence_of_voltage".replace("circuit", "breaker") if says_dead else ""
    assert [c for c in cause.needs if c not in BY_ID] == []
    assert bool(cause.needs) == bool(says_dead)
    is_wired_only = "wired in" in cause.remedy
    assert (cause.needs_where is not everywhere) == is_wired_only
    assert not wanted or wanted in cause.needs


@pytest.mark.parametrize("cause", EACH)
def test_a_charger_that_is_wired_in_is_taken_off_a_dead_circuit(cause: Cause):
    """29 CFR 1910.333(b)(2), from memory: conductors are handled once they are proved dead."""
    is_of_it = cause.station in (Station.CHARGER, Station.CONNECTOR)
    if is_of_it and re.search(r"\breplaced?\b", cause.remedy):
        assert set(CIRCUIT_DEAD) <= set(cause.needs)


def test_nobody_is_told_to_move_the_charger_to_a_receptacle_that_was_not_verified():
    moves = re.compile(
        r"\b(move|plug|connect|try|use)\b[^.;]*"
        r"\b(another|other|different|neighbou?ring) (receptacle|outlet|circuit)\b",
        re.I,
    )
    assert moves.search("Plug the charger into another receptacle to see")
    told = [BY_ID[clue.check].how for clue in CLUES] + [cause.remedy for cause in CAUSES]
    assert [text for text in told if moves.search(text)] == []
