"""An assessor that remembers says the same as a fresh assessment, whatever was changed between."""

import random

from checks import codes
from checks.assess import Assessor, assess
from checks.record import Entry, StateEntry, Visit
from fieldapp import demo

CODE = codes.profile("nec_2023")


def changes(visit: Visit, rng: random.Random) -> Visit:
    """Take entries away, bring them back in another order, renumber one, switch the circuit."""
    kept = [e for e in visit.entries if rng.random() > 0.2]
    rng.shuffle(kept)
    if kept and rng.random() < 0.5:
        again: Entry = rng.choice(kept)
        number = 1 + max(e.number for e in (*visit.entries, *visit.states))
        kept.append(again.model_copy(update={"number": number}))
    states: list[StateEntry] = [s for s in visit.states if rng.random() > 0.3]
    return visit.model_copy(update={"entries": tuple(kept), "states": tuple(states)})


def test_what_it_remembers_changes_no_verdict() -> None:
    whole = demo.run()[0].model_copy(update={"signoff": None})
    remembering = Assessor(CODE)
    for seed in range(40):
        changed = changes(whole, random.Random(seed))
        assert remembering.assess(changed) == assess(changed, CODE), f"seed {seed}"


def test_another_installation_is_judged_anew() -> None:
    whole = demo.run()[0].model_copy(update={"signoff": None})
    remembering = Assessor(CODE)
    remembering.assess(whole)
    renamed = whole.points[0].model_copy(update={"inlet": whole.points[0].connector})
    kept = tuple(e for e in whole.entries if not e.check.startswith("adapter."))
    other = whole.model_copy(update={"points": (renamed,), "entries": kept})
    assert remembering.assess(other) == assess(other, CODE)
