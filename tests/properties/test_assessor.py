"""An assessor that remembers says the same as a fresh assessment, whatever was changed between."""

import random

from checks import codes
from checks.assess import Assessor, assess
from checks.record import Correction, Entry, StateEntry, Visit
from fieldapp import demo
from tests.builders import NOON
from tests.laws.test_found_stays import record
from tests.strategies import points_of

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


def corrected(visit: Visit, what: str, rng: random.Random) -> Visit:
    """Correct a name, the code, where a panel is fed from, or what stands at the first point."""
    before, panel = visit.points[0], visit.panels[0]
    made = (*visit.entries, *visit.states, *visit.corrections)
    number = 1 + max((each.number for each in made), default=0)
    if what == "code":
        other = "cec_2021" if visit.code == "nec_2023" else "nec_2023"
        return _with(visit, Correction(number=number, at=NOON, code=visit.code), code=other)
    if what == "panel":
        moved = panel.model_copy(update={"is_service_equipment": not panel.is_service_equipment})
        correction = Correction(number=number, at=NOON, panels=(panel,))
        return _with(visit, correction, panels=(moved, *visit.panels[1:]))
    now = before.model_copy(update={"name": f"Place {number}"})
    if what == "point":
        like = rng.choice(points_of(visit.system))
        now = like.model_copy(update={"id": before.id, "name": before.name, "panel": before.panel})
    if now == before:
        return visit
    correction = Correction(number=number, at=NOON, points=(before,))
    return _with(visit, correction, points=(now, *visit.points[1:]))


def _with(visit: Visit, made: Correction, **now: object) -> Visit:
    return visit.model_copy(update={**now, "corrections": (*visit.corrections, made)})


def test_what_it_remembers_of_corrections_changes_nothing_that_is_told() -> None:
    told = 0
    for seed in (1000, 1002):
        stages, rng = [record(seed)], random.Random(seed)
        remembering = {name: Assessor(codes.profile(name)) for name in ("nec_2023", "cec_2021")}
        for what in ("point", "name", "code", "name", "panel"):
            stages.append(corrected(stages[-1], what, rng))
        for stage in (*stages, *stages[-2:0:-1]):  # made, and taken back again
            growing = remembering[stage.code].assess(stage)
            assert growing == assess(stage, codes.profile(stage.code)), f"seed {seed}"
            told += len(growing.set_aside)
    assert told > 0
