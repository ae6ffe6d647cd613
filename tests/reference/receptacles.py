"""Receptacles: configuration, circuit, equipment, cover."""

from checks.codes import receptacle
from checks.codes.answer import Outcome
from tests.reference.case import Case, nec

SUBJECT = "receptacles"
WD_6 = "NEMA WD 6 chart"


def _fits(name: str, breaker_a: float, *, is_single: bool = True) -> Outcome:
    return receptacle.receptacle_against_circuit(
        nec(), name, breaker_a, is_single=is_single
    ).outcome


def _permitted(name: str, *, is_fastened: bool = False) -> Outcome:
    return receptacle.receptacle_permitted(nec(), name, is_fastened=is_fastened).outcome


def _chart(name: str) -> tuple[tuple[int, ...], int, bool, bool]:
    found = receptacle.configuration(nec(), name)
    return found.volts, found.rating_a, found.has_ground, found.has_neutral


def _limit(name: str, breaker_a: float) -> float:
    return receptacle.plug_load_limit_a(nec(), name, breaker_a).value


CASES = (
    Case(SUBJECT, WD_6, lambda: _chart("5-20"), ((125,), 20, True, True)),
    Case(SUBJECT, WD_6, lambda: _chart("6-50"), ((250,), 50, True, False)),
    Case(SUBJECT, WD_6, lambda: _chart("10-30"), ((125, 250), 30, False, True)),
    Case(SUBJECT, WD_6, lambda: _chart("14-50"), ((125, 250), 50, True, True)),
    Case(SUBJECT, WD_6, lambda: _chart("TT-30"), ((125,), 30, True, True)),
    Case(
        SUBJECT,
        f"{WD_6}, locking",
        lambda: receptacle.configuration(nec(), "L6-30").is_locking,
        True,
    ),
    # trade forum on 210.21(B)(1): a single 20 A receptacle on 15 A is permitted, a single 15 A
    # one on 20 A is not; a 50 A receptacle on a 40 A circuit is common
    Case(
        SUBJECT,
        "trade forum, worked answer on 210.21(B)(1)",
        lambda: _fits("5-20", 15),
        Outcome.YES,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "trade forum, worked answer on 210.21(B)(1)",
        lambda: _fits("5-15", 20),
        Outcome.NO,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "trade forum, worked answer on 210.21(B)(1)",
        lambda: _fits("14-50", 40),
        Outcome.YES,
        is_worked=True,
    ),
    # the same section: two or more 20 A receptacles need a circuit of 20 A at most
    Case(
        SUBJECT,
        "trade forum, worked answer on table 210.21(B)(3)",
        lambda: _fits("6-20", 50, is_single=False),
        Outcome.NO,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "NEC 2023 table 210.21(B)(3), 40 A: 40 or 50 A",
        lambda: _fits("6-50", 40, is_single=False),
        Outcome.YES,
    ),
    Case(
        SUBJECT,
        "NEC 2023 table 210.21(B)(3), 20 A: 15 or 20 A",
        lambda: _fits("5-15", 20, is_single=False),
        Outcome.YES,
    ),
    # 30 A receptacle on 40 A, 50 A on 60 A
    Case(SUBJECT, "NEC 2023 210.21(B)(1)", lambda: _fits("14-30", 40), Outcome.NO),
    Case(SUBJECT, "NEC 2023 210.21(B)(1)", lambda: _fits("14-50", 60), Outcome.NO),
    # a 15 A receptacle on a 20 A circuit is limited to 12 A
    Case(
        SUBJECT,
        "trade forum, worked answer on table 210.21(B)(2)",
        lambda: _limit("5-15", 20),
        12.0,
        is_worked=True,
    ),
    Case(
        SUBJECT,
        "NEC 2023 table 210.21(B)(2), 30/30 A",
        lambda: _limit("14-30", 30),
        24.0,
    ),
    # 50 A circuit, 40 A continuous for charging
    Case(
        SUBJECT,
        "trade forum, worked answer on continuous load",
        lambda: _limit("14-50", 50),
        40.0,
        is_worked=True,
    ),
    Case(SUBJECT, "NEC 2023 210.20(A), by hand", lambda: _limit("14-50", 40), 32.0),
    Case(SUBJECT, "NEC 2023 625.44(A)", lambda: _permitted("14-50"), Outcome.YES),
    Case(SUBJECT, "NEC 2023 625.44(A): no ground", lambda: _permitted("10-30"), Outcome.NO),
    Case(SUBJECT, "NEC 2023 625.44(A): locking", lambda: _permitted("L6-30"), Outcome.NO),
    Case(SUBJECT, "NEC 2023 625.44(A): 125 V up to 20 A", lambda: _permitted("TT-30"), Outcome.NO),
    Case(
        SUBJECT,
        "NEC 2023 625.44(B)(1): 125 V up to 50 A",
        lambda: _permitted("TT-30", is_fastened=True),
        Outcome.READ_TWO_WAYS,
    ),
    Case(
        SUBJECT,
        "NEC 2023 406.9(B)(1): weatherproof in wet places",
        lambda: receptacle.cover_required(nec(), "wet", 50).outcome,
        Outcome.YES,
    ),
    Case(
        SUBJECT,
        "NEC 2023 406.9(A): 15 and 20 A of the weather-resistant type",
        lambda: "weather-resistant" in receptacle.cover_required(nec(), "damp", 20).why,
        True,
    ),
)
