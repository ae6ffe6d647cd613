"""The kit: which instrument is fit for a measurement."""

import pytest

from checks.check import Measurement
from checks.quantity import Accuracy
from checks.record import Category, Instrument, InstrumentKind
from checks.stations.all import CHECKS
from checks.units import Dimension, to_si
from fieldapp.walk.kit import GENERIC_KIT, added, fit

VOLTS = Measurement("v", "V", instruments=(InstrumentKind.MULTIMETER,), category=Category.CAT_III)
METER = Instrument(
    id="m",
    kind=InstrumentKind.MULTIMETER,
    name="Meter",
    category=Category.CAT_III,
    rated_v=300,
    calibration_due="2025-06-02",
)


@pytest.mark.parametrize(
    ("over", "volts", "on", "is_fit"),
    [
        ({}, 240, "2025-06-02T09:00:00-04:00", True),
        ({"category": Category.CAT_IV}, 240, "2025-06-02", True),
        ({"category": Category.CAT_II}, 240, "2025-06-02", False),
        ({"rated_v": 240}, 240, "2025-06-02", True),
        ({"rated_v": 150}, 240, "2025-06-02", False),
        ({"kind": InstrumentKind.CLAMP}, 240, "2025-06-02", False),
        ({}, 240, "2025-06-03T00:00:00Z", False),  # calibration overdue since today
        ({"calibration_due": None}, 240, "2099-01-01", True),
    ],
)
def test_a_meter_is_fit_by_kind_category_volts_and_calibration(
    over: dict[str, object], volts: int, on: str, is_fit: bool
):
    assert bool(fit(VOLTS, (METER.model_copy(update=over),), volts, on)) is is_fit


def test_the_generic_kit_offers_an_instrument_for_every_measurement():
    unserved = [
        f"{check.id}.{asked.name}"
        for check in CHECKS
        for asked in check.inputs
        if isinstance(asked, Measurement)
        and asked.instruments
        and not fit(asked, GENERIC_KIT, 240, "2025-06-02")
    ]
    assert unserved == []


def test_the_generic_kit_states_an_accuracy_for_what_each_instrument_measures():
    unstated = [
        f"{check.id}.{asked.name}: {instrument.id}"
        for check in CHECKS
        for asked in check.inputs
        if isinstance(asked, Measurement)
        for instrument in fit(asked, GENERIC_KIT, 240, "2025-06-02")
        if instrument.accuracy_for(asked.dimension) is None
    ]
    assert unstated == []


def test_instruments_of_the_kit_have_ids_of_their_own_and_name_no_make():
    assert len({i.id for i in GENERIC_KIT}) == len(GENERIC_KIT)
    assert all(i.is_generic and not i.serial for i in GENERIC_KIT)
    assert Dimension.VOLTAGE in {a.dimension for i in GENERIC_KIT for a in i.accuracy}


@pytest.mark.parametrize(
    ("unit", "low", "high", "is_fit"),
    [("V", None, "600", True), ("mV", None, "400", False), ("V", "1000", None, False)],
)
def test_a_meter_whose_range_misses_what_is_there_is_not_offered(
    unit: str, low: str | None, high: str | None, is_fit: bool
):
    asked = Measurement("v", "V", instruments=(InstrumentKind.MULTIMETER,), plausible=(90, 300))
    row = Accuracy(
        dimension=Dimension.VOLTAGE, percent="1.0", counts=2, unit=unit, low=low, high=high
    )
    tool = METER.model_copy(update={"accuracy": (row,)})
    assert bool(fit(asked, (tool,), 240, "2025-06-02")) is is_fit


def test_every_kind_can_be_added_twice_and_each_gets_an_id_of_its_own():
    kit = GENERIC_KIT
    for kind in InstrumentKind:
        kit = added(added(kit, kind), kind)
    assert len({i.id for i in kit}) == len(GENERIC_KIT) + 2 * len(InstrumentKind)
    assert kit[-1].kind is list(InstrumentKind)[-1]


@pytest.mark.parametrize(
    ("typed", "percent"),
    # a meter of 6000 counts has ranges that end at 600 Ω, 6 kΩ and so on to 60 MΩ, the two highest
    # less accurate (from memory, as data sheets of the class state it)
    [
        ("150 Ω", "1.0"),
        ("59 kΩ", "1.0"),
        ("450 kΩ", "1.0"),
        ("5.2 MΩ", "2.0"),
        ("40 MΩ", "3.0"),
        ("70 MΩ", ""),
    ],
)
def test_the_generic_multimeter_reads_ohms_to_the_end_of_its_class(typed: str, percent: str):
    (meter,) = (i for i in GENERIC_KIT if i.kind is InstrumentKind.MULTIMETER)
    value, symbol = typed.split()
    ohm = float(to_si(float(value), symbol))
    is_read = not meter.unfit_because("2025-06-02", Dimension.RESISTANCE, ohm)
    accuracy = meter.accuracy_for(Dimension.RESISTANCE, ohm)
    assert accuracy is not None
    assert (accuracy.percent if is_read else "") == percent
