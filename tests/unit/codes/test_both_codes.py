import pytest

from checks.assess import assess
from checks.codes import PROFILES, profile
from checks.codes.circuit import disconnect_required, drop_current_a, supply_band
from checks.codes.grounding import ground_fault_required
from checks.codes.place import ventilation_m3_per_min, ventilation_required
from checks.codes.receptacle import permits
from checks.codes.sizing import dwelling_service_size
from checks.errors import OutOfRangeError, OutOfTableError
from checks.source import Basis
from checks.verdict import Force
from tests.builders import visit

NEC, CEC = profile("nec_2023"), profile("cec_2021")


def test_an_assessment_says_by_which_code_it_was_made() -> None:
    found = {name: assess(visit(), code) for name, code in PROFILES.items()}

    assert {name: each.code for name, each in found.items()} == {name: name for name in PROFILES}


@pytest.mark.parametrize("code", PROFILES.values(), ids=lambda code: code.name)
def test_a_profile_says_what_it_does_not_cover(code: object) -> None:
    assert len(code.not_covered) >= 5  # type: ignore[attr-defined]


def test_both_codes_speak_of_the_same_subjects() -> None:
    assert set(CEC.installation.seen) == set(NEC.installation.seen)
    assert set(CEC.voltage.supply) == set(NEC.voltage.supply)
    assert set(CEC.receptacles.configurations.value) == set(NEC.receptacles.configurations.value)


def test_what_was_not_read_in_this_edition_is_never_a_violation() -> None:
    for rule in CEC.installation.seen.values():
        assert rule.force is Force.TRADE_JUDGEMENT
        assert rule.source.basis is Basis.OWN_JUDGEMENT
    for borrowed in (CEC.charging.output_cable_m, CEC.workspace.width_m):
        assert borrowed.force is Force.RECOMMENDATION
        assert not borrowed.source.can_prove


def test_drop_is_advice_in_one_code_and_a_rule_in_the_other() -> None:
    forces = {name: code.voltage.branch_drop_pct.force for name, code in PROFILES.items()}

    assert forces == {"nec_2023": Force.RECOMMENDATION, "cec_2021": Force.CODE_RULE}


def test_a_disconnect_within_sight_is_asked_for_where_the_code_says_so() -> None:
    assert "within sight" in disconnect_required(CEC, 60, 120).why
    assert "within sight" not in disconnect_required(CEC, 59, 120).why
    assert "within sight" not in disconnect_required(NEC, 80, 120).why


@pytest.mark.parametrize("name", NEC.receptacles.configurations.value)
def test_every_configuration_says_what_it_permits_under_both_codes(name: str) -> None:
    for code in (NEC, CEC):
        found = permits(code, name)

        assert found.nominal_v
        assert found.charger_a.value == pytest.approx(0.8 * found.configuration.rating_a)
        assert found.level in (None, 1, 2)
        assert (found.level is None) == (found.portable.outcome == found.fastened.outcome == "no")


def test_a_receptacle_whose_configuration_is_unknown_meets_every_rule() -> None:
    asked = {
        "is_receptacle": True,
        "place": "outdoors",
        "is_dwelling": True,
        "volts_to_ground_v": 120.0,
        "breaker_a": 20.0,
    }

    assert ground_fault_required(CEC, **asked).outcome == "yes"
    assert ground_fault_required(CEC, **asked, configuration="6-20").outcome == "no"


def test_ventilation_is_asked_for_indoors_unless_the_listing_says_otherwise() -> None:
    outcomes = [
        ventilation_required(NEC, is_indoors=indoors, is_listed_without=listed).outcome.name
        for indoors, listed in ((False, None), (True, None), (True, True), (True, False))
    ]

    assert outcomes == ["NO", "READ_TWO_WAYS", "NO", "YES"]
    assert ventilation_m3_per_min(NEC, 208, 30, phases=3).value == pytest.approx(
        3**0.5 * 208 * 30 / 48.7 * 0.3048**3
    )


def test_drop_without_a_current_is_refused() -> None:
    with pytest.raises(OutOfRangeError, match="drop needs a current"):
        drop_current_a(NEC, None)


def test_a_table_that_was_not_read_is_refused() -> None:
    with pytest.raises(OutOfTableError, match="was not read"):
        dwelling_service_size(CEC, 100, "copper")
    with pytest.raises(OutOfTableError, match="ends at 400"):
        dwelling_service_size(NEC, 600, "copper")


def test_no_supply_band_of_the_canadian_code_proves_anything() -> None:
    assert not any(rule.source.can_prove for rule in CEC.voltage.supply.values())
    assert supply_band(CEC, 240).value.low_v == 220
