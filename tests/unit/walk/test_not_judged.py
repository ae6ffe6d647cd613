"""A record that this software fails to judge: not left on disk, and nobody is kept out."""

from pathlib import Path

import pytest

from checks.assess import Assessor, assess
from checks.check import Situation
from checks.codes import profile
from checks.errors import NotAssessedError
from checks.stations.all import BY_ID
from checks.verdict import Judgement
from fieldapp.store.visits import Store
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger
from fieldapp.walk.visit import Walk
from tests.builders import visit
from tests.unit.walk.reopened import Clock, Walks

RATING = "breaker.rating"


@pytest.fixture
def _fails_at_13_a(monkeypatch: pytest.MonkeyPatch):
    """The judge of one check that fails at one number, as a division by it would."""
    check = BY_ID[RATING]

    def judge(s: Situation) -> Judgement:
        if s.rating("breaker.rating.rated_a") == 13.0:
            raise ZeroDivisionError
        return real(s)

    real = check.judge
    monkeypatch.setitem(check.__dict__, "judge", judge)


@pytest.mark.usefixtures("_fails_at_13_a")
def test_what_cannot_be_judged_is_not_left_on_disk_and_no_answer_is_lost(walks: Walks):
    w = walks()
    w.makes("breaker.condition", "no", "no", "no")
    w.answers(RATING, "40 A", "2")
    w.do(lambda walk: walk.pass_over())
    w.do(lambda walk: walk.go_to("rated_a"))
    w.walk.answer("13", unit="A", sure=True)
    with pytest.raises(NotAssessedError, match=r"cannot be judged \(ZeroDivisionError in judge"):
        w.walk.commit()
    assert w.walk.questions is not None  # it stands there as it was typed, to be corrected
    assert [a.input for a in w.walk.questions.entry.answers] == ["poles", "rated_a"]
    assert [e.check for e in w.walk.visit.entries] == ["breaker.condition"]
    w.close()
    w._open()
    assert [e.check for e in w.walk.visit.entries] == ["breaker.condition"]
    assert w.walk.questions is not None
    w.do(lambda walk: walk.go_to("rated_a"))
    w.do(lambda walk: walk.answer("50", unit="A"))
    assert w.do(lambda walk: walk.commit()).judgement.telling == "50 A"


@pytest.mark.usefixtures("_fails_at_13_a")
def test_one_visit_that_cannot_be_judged_needs_attention_and_the_others_are_there(tmp_path: Path):
    with Store(tmp_path) as store:
        ledger = Ledger(store, Clock())
        for name in ("sound", "bad"):
            store.save(visit(id=name).model_dump(mode="json"))
        walk = Walk(store, "bad", Clock())
        walk.begin(RATING)
        walk.answer("40", unit="A")
        walk.answer("2")
        walk.pass_over()
        walk.commit()
        path = tmp_path / "visits" / "bad.json"
        path.write_bytes(path.read_bytes().replace(b'"value":"40"', b'"value":"13"'))
        kept = path.read_bytes()
        listing = ledger.visits()
        assert list(listing.summaries) == ["sound"]
        assert "cannot be judged" in str(listing.needs_attention["bad"])
        with pytest.raises(NotAssessedError, match="export the visit for the maker"):
            Desk(ledger).open("bad")
        assert Desk(ledger).open("sound").visit.id == "sound"
        assert path.read_bytes() == kept


@pytest.mark.usefixtures("_fails_at_13_a")
def test_after_a_failure_an_assessor_says_the_same_as_a_fresh_one(walks: Walks):
    w = walks()
    w.makes("breaker.condition", "no", "no", "no")
    w.makes(RATING, "40 A", "2", "14")
    good, code = w.walk.visit, profile("nec_2023")
    last = good.entries[-1]
    bad = last.model_copy(
        update={
            "answers": tuple(
                a.model_copy(update={"value": "13"}) if a.input == "rated_a" else a
                for a in last.answers
            )
        }
    )
    remembering = Assessor(code)
    remembering.assess(good)
    with pytest.raises(NotAssessedError):
        remembering.assess(good.model_copy(update={"entries": (*good.entries[:-1], bad)}))
    assert remembering.assess(good) == assess(good, code)
