from dataclasses import replace

import pytest

from checks.codes import PROFILES, profile
from checks.codes.answer import Outcome
from checks.codes.dwelling import DwellingLoad, Service
from checks.codes.headroom import dwelling_room, largest_charger_in_dwelling_a, relief
from checks.codes.load import record_allowed
from checks.codes.worksheet import Worksheet
from checks.errors import OutOfRangeError

NEC, CEC = profile("nec_2023"), profile("cec_2021")
HOUSE = DwellingLoad(
    160.0,
    2,
    1,
    (("water heater", 4_500),),
    cooling_va=5_000,
    range_va=12_000,
    dryer_va=5_000,
    is_existing=True,
)
SERVICE = Service(100.0)
CODES = pytest.mark.parametrize("code", [NEC, CEC], ids=lambda code: code.name)


def with_charger(amps: float, **more: object) -> DwellingLoad:
    return replace(HOUSE, charger_va=SERVICE.va(amps), **more)  # type: ignore[arg-type]


def sheets(code_name: str, dwelling: DwellingLoad) -> list[Worksheet]:
    found = dwelling_room(profile(code_name), dwelling, SERVICE)
    return [sheet for result in found.results for sheet in result.readings]


@pytest.mark.parametrize("name", ["nec_2023", "cec_2021"])
def test_every_line_counts_names_its_clause_and_adds_up(name: str) -> None:
    for sheet in sheets(name, with_charger(32.0)):
        counted = sum(line.counted_va for line in sheet.lines)
        least = 0.0 if sheet.least_va is None else sheet.least_va.counted_va

        assert sheet.total_va == max(counted, least)
        for line in (each for whole in sheet.lines for each in whole.every):
            assert line.source.clause
            assert str(line.source) in str(line)
            if line.parts:
                assert line.connected_va == pytest.approx(sum(p.counted_va for p in line.parts))
        assert all(str(line) in sheet.working for line in sheet.lines)


@CODES
def test_more_charger_never_counts_less(code: object) -> None:
    totals = [
        dwelling_room(code, with_charger(amps), SERVICE).deciding.total_va  # type: ignore[arg-type]
        for amps in (0.0, 8.0, 16.0, 32.0, 48.0, 80.0)
    ]

    assert totals == sorted(totals)


@CODES
def test_the_largest_charger_just_fits_and_a_little_more_does_not(code: object) -> None:
    lenient, cautious = largest_charger_in_dwelling_a(code, HOUSE, SERVICE)  # type: ignore[arg-type]

    assert cautious.value <= lenient.value
    if cautious.value > 0:
        just = dwelling_room(code, with_charger(cautious.value), SERVICE)  # type: ignore[arg-type]
        more = dwelling_room(code, with_charger(cautious.value + 0.1), SERVICE)  # type: ignore[arg-type]
        assert just.ruling.outcome is Outcome.YES
        assert more.ruling.outcome is not Outcome.YES


def test_a_full_service_has_no_room_and_management_makes_none() -> None:
    full = replace(HOUSE, heating_va=60_000.0, heating_units=1)

    assert [each.value for each in largest_charger_in_dwelling_a(NEC, full, SERVICE)] == [0, 0]
    assert relief(NEC, full, SERVICE).charger_limit_a.value == 0


def test_a_large_service_takes_more_than_any_charger() -> None:
    large = Service(400.0)

    assert largest_charger_in_dwelling_a(NEC, HOUSE, large)[1].value > 80


def test_management_admits_a_charger_that_does_not_fit_by_its_nameplate() -> None:
    wanted = with_charger(80.0)
    limit = relief(NEC, wanted, SERVICE).charger_limit_a
    held = replace(wanted, managed_va=SERVICE.va(limit.value))

    assert dwelling_room(NEC, wanted, SERVICE).ruling.outcome is Outcome.NO
    assert dwelling_room(NEC, held, SERVICE).ruling.outcome is Outcome.YES
    assert limit.value > 6


def test_a_watched_service_leaves_the_charger_out_under_the_canadian_code_only() -> None:
    watched = with_charger(80.0, managed_va=SERVICE.va(80.0), is_service_watched=True)
    outcomes = {
        name: dwelling_room(code, watched, SERVICE).ruling.outcome
        for name, code in PROFILES.items()
    }

    assert outcomes == {"nec_2023": Outcome.NO, "cec_2021": Outcome.YES}


def test_a_method_that_may_not_be_used_says_why() -> None:
    small = dwelling_room(NEC, replace(HOUSE, is_existing=False), Service(60.0))
    refused = {result.title: result.refusal for result in small.results if result.refusal}

    assert set(refused) == {"optional calculation", "calculation for an existing dwelling"}
    assert "at least 100 A" in refused["optional calculation"]
    assert any("only for a dwelling that stands" in line for line in small.working)


def test_two_chargers_count_the_least_load_twice() -> None:
    two = with_charger(30.0, charger_count=2)
    one = with_charger(30.0)
    total = {
        count: dwelling_room(NEC, dwelling, SERVICE).results[0].cautious.total_va
        for count, dwelling in ((2, two), (1, one))
    }

    assert total[2] - total[1] == pytest.approx(7_200)


def test_a_doubtful_reading_is_marked_in_its_worksheet() -> None:
    found = dwelling_room(NEC, with_charger(24.0), SERVICE)
    optional = next(each for each in found.results if each.title == "optional calculation")

    assert not optional.cautious.source.can_prove
    assert optional.lenient.source.can_prove


def test_three_phase_amps_count_the_root_of_three() -> None:
    assert Service(200.0, 208.0, 3).amps(72_000) == pytest.approx(72_000 / 208 / 3**0.5)
    assert Service(200.0, 208.0, 3).va(200.0) == pytest.approx(200 * 208 * 3**0.5)


def test_what_cannot_be_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="below 0 is not possible"):
        replace(HOUSE, dryer_va=-1.0)
    with pytest.raises(OutOfRangeError, match="service of 0 A"):
        dwelling_room(NEC, HOUSE, Service(0.0))


def test_a_short_record_is_not_enough_under_the_canadian_code() -> None:
    assert record_allowed(CEC, 60, is_generating=False).outcome is Outcome.NO
