"""The cost of an assessment, as ratios within one run."""

import time
from collections.abc import Callable
from statistics import median

from checks import codes
from checks.assess import Assessor, assess
from checks.record import Visit
from fieldapp import demo

CODE = codes.profile("nec_2023")
POINTS = 20


def milliseconds(work: Callable[[], object], runs: int) -> float:
    """Of this process alone: what else runs on the machine counts in no ratio."""
    took = []
    for _ in range(runs):
        began = time.process_time()
        work()
        took.append(time.process_time() - began)
    return 1000 * median(took)


def many(one: Visit) -> Visit:
    """The same charging point twenty times, each with its own entries."""
    point = one.points[0]
    points, entries, number = [], [], 0
    for i in range(POINTS):
        points.append(point.model_copy(update={"id": f"c{i}", "name": f"Bay {i}"}))
        for entry in one.entries:
            if i > 0 and entry.subject != point.id:
                continue  # site and panel are shared
            number += 1
            subject = f"c{i}" if entry.subject == point.id else entry.subject
            entries.append(entry.model_copy(update={"number": number, "subject": subject}))
    return one.model_copy(update={"points": tuple(points), "entries": tuple(entries), "states": ()})


def test_twenty_points_cost_little_more_than_twenty_times_one() -> None:
    one = demo.run()[0]
    twenty = many(one)
    single = milliseconds(lambda: assess(one, CODE), 9)
    whole = milliseconds(lambda: assess(twenty, CODE), 3)
    print(f"one point {single:.1f} ms, twenty {whole:.1f} ms, ratio {whole / single:.1f}")
    assert whole / single <= 22


def test_one_changed_entry_costs_a_tenth_of_the_whole() -> None:
    twenty = many(demo.run()[0])
    whole = milliseconds(lambda: assess(twenty, CODE), 3)
    remembering = Assessor(CODE)
    remembering.assess(twenty)
    entries = list(twenty.entries)
    place = next(i for i, e in enumerate(entries) if e.check == "run.length" and e.subject == "c7")
    versions = []
    for i in range(9):
        reading = entries[place].answers[1].model_copy(update={"value": f"{50 + i}.0"})
        answers = (entries[place].answers[0], reading)
        entries[place] = entries[place].model_copy(update={"answers": answers})
        versions.append(twenty.model_copy(update={"entries": tuple(entries)}))
    turn = iter(versions)
    again = milliseconds(lambda: remembering.assess(next(turn)), len(versions))
    print(f"whole {whole:.1f} ms, one changed entry {again:.1f} ms, ratio {again / whole:.3f}")
    assert again / whole <= 0.1
