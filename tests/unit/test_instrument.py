"""Data sheets: which range counts, what a count is, and what an unfit meter's reading proves."""

import pytest
from pydantic import ValidationError

from checks.assess import assess
from checks.codes import profile
from checks.quantity import Accuracy, expanded, gain, measured
from checks.record import Instrument, InstrumentKind, Visit
from checks.units import Dimension
from checks.verdict import Severity, Verdict
from tests.builders import SITE, visit, with_entries

NEC = profile("nec_2023")
SUPPLY = "service.supply_voltage"
ROWS = tuple(
    Accuracy(
        dimension=Dimension.RESISTANCE,
        percent=percent,
        counts=2,
        unit="kΩ",
        resolution=step,
        high=high,
    )
    for percent, step, high in (("0.5", "0.0001", "0.6"), ("1.0", "0.001", "6"))
)
OHMS = Instrument(id="m", kind=InstrumentKind.MULTIMETER, name="Meter", accuracy=ROWS)


@pytest.mark.parametrize(
    ("ohm", "percent"), [(480.0, "0.5"), (600.0, "0.5"), (-480.0, "0.5"), (2700.0, "1.0")]
)
def test_the_first_range_that_covers_a_value_counts(ohm: float, percent: str) -> None:
    found = OHMS.accuracy_for(Dimension.RESISTANCE, ohm)
    assert found is not None
    assert found.percent == percent


def supply_by(tool: Instrument) -> Visit:
    volts = {"l1_l2": "241.2 V", "l1_n": "120.7 V", "l2_n": "120.5 V"}
    made = with_entries(visit(), {SUPPLY: volts})
    entry = made.entries[-1]
    answers = tuple(a.model_copy(update={"instrument": tool.id}) for a in entry.answers)
    told = entry.model_copy(update={"answers": answers})
    return made.model_copy(update={"entries": (told,), "instruments": (tool,)})


@pytest.mark.parametrize(
    ("over", "verdict", "words"),
    [
        # IEC 61010-2-030: CAT IV at the source of the installation, rated for its volts
        ({}, Verdict.WITHIN, ""),
        ({"kind": "measuring tape"}, Verdict.BORDERLINE, "measuring tape"),
        ({"category": "CAT II"}, Verdict.BORDERLINE, "CAT II, where it takes CAT IV"),
        ({"rated_v": 150}, Verdict.BORDERLINE, "150 V, where there are 240 V"),
    ],
)
def test_a_reading_by_what_is_not_fit_for_its_place_is_never_within(
    over: dict[str, str | int], verdict: Verdict, words: str
) -> None:
    plain = {"id": "m", "kind": "multimeter", "name": "Meter", "category": "CAT IV", "rated_v": 600}
    tool = Instrument.model_validate({**plain, **over}, strict=False)
    found = assess(supply_by(tool), NEC).row(SUPPLY, SITE).judgement
    assert found.verdict is verdict
    assert words in found.explanation


def test_beyond_its_ranges_the_last_one_stands_and_the_meter_is_not_fit() -> None:
    found = OHMS.accuracy_for(Dimension.RESISTANCE, 9000.0)
    assert found is ROWS[1]
    assert "beyond the range" in OHMS.unfit_because("2025-06-02", Dimension.RESISTANCE, 9000.0)
    assert OHMS.unfit_because("2025-06-02", Dimension.RESISTANCE, 2700.0) == ""


@pytest.mark.parametrize(
    ("text", "symbol", "half_width"),
    [
        ("2.700", "kΩ", 2.0),  # 2 counts of 1 Ω
        ("2.7000", "kΩ", 2.0),  # more digits than the display has
        ("2.7", "kΩ", 200.0),  # 2 counts of what was typed
        ("2700", "Ω", 2.0),
    ],
)
def test_a_count_is_the_last_digit_typed_but_no_less_than_the_display_s(
    text: str, symbol: str, half_width: float
) -> None:
    exact = ROWS[1].model_copy(update={"percent": "0"})
    value = measured(text, symbol, exact, gain(exact))
    # limits of error are rectangular, k = 2 (JCGM 100:2008, 4.3.7; from memory)
    assert expanded(value) == pytest.approx(2 * half_width / 3**0.5)


def test_a_range_in_a_unit_of_something_else_is_refused() -> None:
    with pytest.raises(ValidationError, match="no unit of voltage"):
        Accuracy(dimension=Dimension.VOLTAGE, percent="1.0", counts=2, unit="A")


def supplied(due: str | None, volts: str = "240.1") -> Visit:
    tools = [
        i.model_copy(update={"calibration_due": due}) if i.kind is InstrumentKind.MULTIMETER else i
        for i in visit().instruments
    ]
    said = {"l1_l2": f"{volts} V", "l1_n": "120.0 V", "l2_n": "120.1 V"}
    return with_entries(visit(instruments=tuple(tools)), {SUPPLY: said})


def test_a_reading_with_an_overdue_meter_is_a_finding_at_its_own_time() -> None:
    in_time = assess(supplied("2025-06-02"), NEC).row(SUPPLY, SITE).judgement  # taken that day
    late = assess(supplied("2025-06-01"), NEC)
    judged = late.row(SUPPLY, SITE).judgement

    assert in_time.verdict is Verdict.WITHIN
    assert judged.verdict is Verdict.BORDERLINE
    assert judged.severity is Severity.NOTICE
    assert "past its calibration, due on 2025-06-01" in judged.explanation
    assert "instrument in calibration" in judged.settles
    assert SUPPLY in [f.row.check for f in late.findings]


def test_what_an_overdue_meter_found_outside_stays_outside_and_says_so() -> None:
    judged = assess(supplied("2025-06-01", "280.1"), NEC).row(SUPPLY, SITE).judgement
    assert judged.verdict is Verdict.OUTSIDE
    assert "past its calibration" in judged.explanation


def test_a_reading_beyond_the_meter_s_range_is_never_within() -> None:
    made = supplied(None)
    short = Accuracy(dimension=Dimension.VOLTAGE, percent="0.5", counts=1, high="200")
    tools = tuple(i.model_copy(update={"accuracy": (short,)}) for i in made.instruments)
    judged = assess(made.model_copy(update={"instruments": tools}), NEC).row(SUPPLY, SITE).judgement
    assert judged.verdict is Verdict.BORDERLINE
    assert "beyond the range" in judged.explanation


def test_a_row_of_a_data_sheet_is_said_in_one_phrase() -> None:
    assert str(ROWS[1]) == "±(1.0 % + 2 counts of 0.001 kΩ) to 6 kΩ"
    plain = Accuracy(dimension=Dimension.FORCE, percent="2.0", counts=1)
    assert str(plain) == "±(2.0 % + 1 count)"
