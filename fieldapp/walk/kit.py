"""The instruments a technician starts with: generic classes, no makes, to be replaced."""

from typing import Final

from checks.check import Measurement
from checks.quantity import Accuracy, Dimension
from checks.record import Category, Instrument, InstrumentKind


def _of(*rows: tuple[Dimension, str, int]) -> tuple[Accuracy, ...]:
    return tuple(Accuracy(dimension=d, percent=p, counts=c) for d, p, c in rows)


# Limits of error of plain hand-held classes: own judgement, to be replaced by the data sheet.
GENERIC_KIT: Final[tuple[Instrument, ...]] = (
    Instrument(
        id="multimeter",
        kind=InstrumentKind.MULTIMETER,
        name="Multimeter, 6000 counts",
        category=Category.CAT_IV,
        rated_v=600,
        accuracy=_of((Dimension.VOLTAGE, "0.7", 2), (Dimension.RESISTANCE, "1.0", 3)),
    ),
    Instrument(
        id="clamp",
        kind=InstrumentKind.CLAMP,
        name="Clamp meter",
        category=Category.CAT_IV,
        rated_v=600,
        accuracy=_of((Dimension.CURRENT, "2.0", 5), (Dimension.VOLTAGE, "1.0", 3)),
    ),
    Instrument(
        id="insulation",
        kind=InstrumentKind.INSULATION,
        name="Insulation tester, 500 V",
        category=Category.CAT_III,
        rated_v=600,
        accuracy=_of((Dimension.RESISTANCE, "3.0", 3), (Dimension.VOLTAGE, "3.0", 3)),
    ),
    Instrument(
        id="low-ohm",
        kind=InstrumentKind.LOW_OHM,
        name="Low-resistance ohmmeter, 200 mA",
        category=Category.CAT_III,
        rated_v=600,
        accuracy=_of((Dimension.RESISTANCE, "2.0", 3)),
    ),
    Instrument(
        id="ground-fault",
        kind=InstrumentKind.GROUND_FAULT,
        name="Ground-fault tester",
        category=Category.CAT_III,
        rated_v=300,
        accuracy=_of((Dimension.CURRENT, "5.0", 2), (Dimension.TIME, "1.0", 2)),
    ),
    Instrument(
        id="pilot",
        kind=InstrumentKind.PILOT,
        name="Pilot-signal tester with vehicle simulator",
        category=Category.CAT_III,
        rated_v=300,
        accuracy=_of(
            (Dimension.VOLTAGE, "1.0", 2),
            (Dimension.RATIO, "0.2", 2),
            (Dimension.CURRENT, "0.5", 2),
        ),
    ),
    Instrument(
        id="contact-thermometer",
        kind=InstrumentKind.CONTACT_THERMOMETER,
        name="Contact thermometer",
        category=Category.CAT_II,
        rated_v=300,
        accuracy=_of((Dimension.TEMPERATURE, "1.0", 10)),
    ),
    Instrument(
        id="infrared",
        kind=InstrumentKind.INFRARED,
        name="Infrared thermometer",
        category=Category.NONE,
        accuracy=_of((Dimension.TEMPERATURE, "2.0", 20)),
    ),
    Instrument(
        id="torque",
        kind=InstrumentKind.TORQUE,
        name="Torque screwdriver",
        accuracy=_of((Dimension.TORQUE, "6.0", 1)),
    ),
    Instrument(
        id="force",
        kind=InstrumentKind.FORCE,
        name="Force gauge with test blades",
        accuracy=_of((Dimension.FORCE, "2.0", 2)),
    ),
    Instrument(
        id="tape",
        kind=InstrumentKind.TAPE,
        name="Measuring tape",
        accuracy=_of((Dimension.LENGTH, "0.5", 1)),
    ),
    Instrument(
        id="logger",
        kind=InstrumentKind.LOGGER,
        name="Load recorder",
        category=Category.CAT_IV,
        rated_v=600,
        accuracy=_of((Dimension.CURRENT, "2.0", 2), (Dimension.POWER, "2.0", 2)),
    ),
)


def fit(
    asked: Measurement, kit: tuple[Instrument, ...], volts: int, on: str
) -> tuple[Instrument, ...]:
    """Return the instruments of a kit that are fit for a measurement; none, and it is not offered.

    Parameters
    ----------
    asked : Measurement
        With the kinds it may be taken with and the category its place needs.
    kit : tuple of Instrument
        What the technician has.
    volts : int
        Nominal volts between the lines there. [V]
    on : str
        The day or moment of the reading: an instrument whose calibration is overdue is not fit.
    """
    day = on[:10]  # of a moment, its date
    return tuple(
        i
        for i in kit
        if i.kind in asked.instruments
        and i.category.covers(asked.category)
        and (asked.category is Category.NONE or i.rated_v >= volts)
        and (i.calibration_due is None or i.calibration_due >= day)
    )
