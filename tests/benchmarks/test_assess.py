"""The cost of an assessment, as ratios within one run."""

import gc
import time
from collections.abc import Callable

from checks import codes
from checks.assess import Assessor, assess
from checks.record import Visit
from fieldapp import demo
from tests.benchmarks.ratios import quickest

CODE = codes.profile("nec_2023")
POINTS = 20
MOST = 1.1  # twenty points cost at most 22 times one


def milliseconds(runs: int, *works: Callable[[], object]) -> list[float]:
    """Of each work the quickest run, taken in turns: a busy machine only ever makes one slower."""
    took: list[list[float]] = [[] for _ in works]
    for _ in range(runs):
        for work, times in zip(works, took, strict=True):
            gc.collect()  # nobody pays for another's rubbish
            began = time.process_time()
            work()
            times.append(time.process_time() - began)
    return [1000 * min(times) for times in took]


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


def test_twenty_points_cost_little_more_than_twenty_visits_with_one() -> None:
    one = demo.run()[0]
    twenty = many(one)

    def pair() -> tuple[float, float]:
        singles, whole = milliseconds(
            1, lambda: [assess(one, CODE) for _ in range(POINTS)], lambda: assess(twenty, CODE)
        )
        return singles, whole

    singles, whole = quickest(pair, MOST, 2)
    print(f"twenty visits {singles:.0f} ms, one of twenty points {whole:.0f} ms")
    print(f"ratio {whole / singles:.2f}")
    assert whole / singles <= MOST


def test_one_changed_entry_costs_a_tenth_of_the_whole() -> None:
    twenty = many(demo.run()[0])
    remembering = Assessor(CODE)
    remembering.assess(twenty)
    entries = list(twenty.entries)
    place = next(i for i, e in enumerate(entries) if e.check == "run.length" and e.subject == "c7")
    versions = []
    for i in range(5):
        reading = entries[place].answers[1].model_copy(update={"value": f"{50 + i}.0"})
        answers = (entries[place].answers[0], reading)
        entries[place] = entries[place].model_copy(update={"answers": answers})
        versions.append(twenty.model_copy(update={"entries": tuple(entries)}))
    turn = iter(versions)
    whole, again = milliseconds(
        len(versions), lambda: assess(twenty, CODE), lambda: remembering.assess(next(turn))
    )
    print(f"whole {whole:.1f} ms, one changed entry {again:.1f} ms, ratio {again / whole:.3f}")
    assert again / whole <= 0.1
