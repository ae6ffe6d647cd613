"""Invented service calls, written plainly."""

from typing import Any, Final

from checks.assess import assess
from checks.causes import NextTest, RankedCause, Ranking
from checks.codes import profile
from checks.record import NotDone, NotDoneReason, Role, Visit, VisitKind
from tests.builders import conductor, level_1, visit, with_entries

Plain = dict[str, dict[str, Any]]

NO_CIRCUMSTANCE: Final = dict.fromkeys(
    (
        "is_after_rain",
        "is_on_hot_days",
        "is_with_other_loads",
        "is_with_other_vehicles",
        "is_since_storm",
        "is_since_new",
    ),
    False,
)
CHARGES: Final = {"start": "charges", "stops": "no", "is_slow": False, "is_offline": False}
LEVEL_1: Final[Plain] = {
    "breaker.rating": {"rated_a": "15 A", "poles": "1"},
    "charger.nameplate": {
        "rated_a": "12 A",
        "volts": "120",
        "is_listed": True,
        "enclosure": "type_3r",
    },
    "charger.configuration": {"configured_a": "12 A", "access": "fixed"},
}
LEVEL_2: Final[Plain] = {
    "breaker.rating": {"rated_a": "40 A", "poles": "2"},
    "charger.nameplate": {
        "rated_a": "32 A",
        "volts": "240",
        "is_listed": True,
        "enclosure": "type_3r",
    },
    "charger.configuration": {"configured_a": "32 A", "access": "tool", "is_label_adjusted": True},
    "run.conductor": conductor("8 AWG"),
    "run.length": {"basis": "measured", "length": "20.0 m"},
}


def service_call(entries: Plain, **over: Any) -> Visit:
    made = {"kind": VisitKind.SERVICE_CALL, "role": Role.SERVES, **over}
    return with_entries(visit(**made), entries)


def level_1_call(entries: Plain, **over: Any) -> Visit:
    return service_call(LEVEL_1 | entries, points=(level_1(),), **over)


def ranked(made: Visit) -> Ranking:
    return assess(made, profile("nec_2023")).causes[0]


def find(ranking: Ranking, name: str) -> RankedCause | None:
    return next((c for c in ranking.causes if c.cause == name), None)


def share(ranking: Ranking, name: str) -> float:
    found = find(ranking, name)
    return 0.0 if found is None else float(found.share)


def search(made: Visit) -> list[Ranking]:
    """The rankings when each proposed test is left out, until nothing more is proposed."""
    found = [ranked(made)]
    for number in range(500, 540):
        test = found[-1].next_test
        if test is None:
            return found
        skipped = made.entries[0].model_copy(
            update={
                "number": number,
                "check": test.check,
                "subject": test.subject,
                "answers": (),
                "not_done": NotDone(reason=NotDoneReason.OTHER),
            }
        )
        made = made.model_copy(update={"entries": (*made.entries, skipped)})
        found.append(ranked(made))
    raise AssertionError("it never ends")


def proposed(rankings: list[Ranking]) -> list[NextTest]:
    return [r.next_test for r in rankings if r.next_test is not None]


def proposals(entries: Plain, **over: object) -> list[str]:
    return [test.check for test in proposed(search(service_call(entries, **over)))]
