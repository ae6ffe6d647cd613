"""Laws of a corrected record: it is judged whatever stood before, and nothing counts twice."""

from random import Random

from hypothesis import HealthCheck, assume, given, settings

from checks.assess import assess
from checks.check.corrected import overtaken
from checks.codes import profile
from checks.intake import read_visit
from checks.record import Correction, Visit
from checks.verdict import Verdict
from tests.builders import NOON
from tests.strategies import filled, points_of, seeds, shapes

NEC = profile("nec_2023")


@settings(max_examples=15, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(shapes(most_points=2), seeds)
def test_a_corrected_record_is_judged_and_nothing_made_before_is_good_of_what_is_there_now(
    shape: Visit, seed: int
):
    rng = Random(seed)
    before = filled(shape, rng)
    last = len(before.entries) + 1
    now = tuple(
        rng.choice(points_of(shape.system)).model_copy(update={"id": p.id, "name": p.name})
        for p in shape.points
    )
    stood = tuple(p for p in shape.points if p not in now)
    assume(stood)
    made = (Correction(number=last, at=NOON, points=stood),)
    corrected = before.model_copy(update={"points": now, "corrections": made})
    assert read_visit(corrected.model_dump(mode="json")) == corrected
    rows = {(r.check, r.subject): r for r in assess(corrected, NEC).rows}
    for entry in before.entries:
        row = rows.get((entry.check, entry.subject))
        if row is not None and overtaken(corrected, entry, corrected.as_it_stood(entry.number)):
            assert row.judgement.verdict is not Verdict.WITHIN
            assert row.is_owed_again or row.judgement.verdict is Verdict.NOT_APPLICABLE
    # corrected back, each counts as it did
    again = (*made, Correction(number=last + 1, at=NOON, points=now))
    back = assess(before.model_copy(update={"corrections": again}), NEC)
    assert [r.judgement for r in back.rows] == [r.judgement for r in assess(before, NEC).rows]
