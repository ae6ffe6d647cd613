"""The instruments a technician starts with: generic classes, no makes, to be replaced."""

from typing import Final

from checks.check import Measurement, unfit_for
from checks.quantity import Accuracy
from checks.record import Category, Instrument, InstrumentKind
from checks.units import Dimension

MOST: Final = 50  # what a record may hold


def _of(*rows: tuple[Dimension, str, int]) -> tuple[Accuracy, ...]:
    return tuple(Accuracy(dimension=d, percent=p, counts=c) for d, p, c in rows)


def _ranges(
    dimension: Dimension, percent: str, counts: int, unit: str, *ranges: tuple[str, str]
) -> tuple[Accuracy, ...]:
    """Return the rows of a data sheet: the least step of each range, and how far it goes."""
    return tuple(
        Accuracy(
            dimension=dimension,
            percent=percent,
            counts=counts,
            unit=unit,
            resolution=step,
            high=high,
        )
        for step, high in ranges
    )


# Limits of error of plain hand-held classes: own judgement, to be replaced by the data sheet.
GENERIC_KIT: Final[tuple[Instrument, ...]] = (
    Instrument(
        id="multimeter",
        kind=InstrumentKind.MULTIMETER,
        name="Multimeter, 6000 counts",
        category=Category.CAT_IV,
        rated_v=600,
        accuracy=(
            *_ranges(Dimension.VOLTAGE, "0.7", 2, "V", ("0.1", "600")),
            *_ranges(
                Dimension.RESISTANCE, "1.0", 3, "Ω", ("0.1", "600"), ("1", "6000"), ("10", "60000")
            ),
            # the ranges of 6000 counts go on to 60 MΩ, the highest of them coarser (from memory)
            *_ranges(Dimension.RESISTANCE, "1.0", 3, "kΩ", ("0.1", "600")),
            *_ranges(Dimension.RESISTANCE, "2.0", 3, "MΩ", ("0.001", "6")),
            *_ranges(Dimension.RESISTANCE, "3.0", 5, "MΩ", ("0.01", "60")),
        ),
    ),
    Instrument(
        id="clamp",
        kind=InstrumentKind.CLAMP,
        name="Clamp meter",
        category=Category.CAT_IV,
        rated_v=600,
        accuracy=(
            *_ranges(Dimension.CURRENT, "2.0", 5, "A", ("0.1", "400")),
            *_ranges(Dimension.VOLTAGE, "1.0", 3, "V", ("0.1", "600")),
        ),
    ),
    Instrument(
        id="insulation",
        kind=InstrumentKind.INSULATION,
        name="Insulation tester, 500 V",
        category=Category.CAT_III,
        rated_v=600,
        accuracy=(
            *_ranges(
                Dimension.RESISTANCE, "3.0", 3, "MΩ", ("0.01", "20"), ("0.1", "200"), ("1", "2000")
            ),
            *_ranges(Dimension.VOLTAGE, "3.0", 3, "V", ("1", "600")),
        ),
    ),
    Instrument(
        id="low-ohm",
        kind=InstrumentKind.LOW_OHM,
        name="Low-resistance ohmmeter, 200 mA",
        category=Category.CAT_III,
        rated_v=600,
        accuracy=_ranges(Dimension.RESISTANCE, "2.0", 3, "Ω", ("0.01", "20"), ("0.1", "200")),
    ),
    Instrument(
        id="loop",
        kind=InstrumentKind.LOOP,
        name="Loop tester, 0.01 Ω",
        category=Category.CAT_III,
        rated_v=300,
        accuracy=_ranges(Dimension.RESISTANCE, "3.0", 3, "Ω", ("0.01", "20")),
    ),
    Instrument(
        id="ground-fault",
        kind=InstrumentKind.GROUND_FAULT,
        name="Ground-fault tester",
        category=Category.CAT_III,
        rated_v=300,
        accuracy=(
            *_ranges(Dimension.CURRENT, "5.0", 2, "mA", ("0.1", "300")),
            *_ranges(Dimension.TIME, "1.0", 2, "ms", ("1", "10000")),
        ),
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
        accuracy=_ranges(Dimension.TEMPERATURE, "1.0", 10, "°C", ("0.1", "200")),
    ),
    Instrument(
        id="infrared",
        kind=InstrumentKind.INFRARED,
        name="Infrared thermometer",
        category=Category.NONE,
        accuracy=_ranges(Dimension.TEMPERATURE, "2.0", 20, "°C", ("0.1", "350")),
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


def added(kit: tuple[Instrument, ...], kind: InstrumentKind) -> tuple[Instrument, ...]:
    """Return a kit with one more instrument: the generic class of a kind, last, to be corrected."""
    plain = next(i for i in GENERIC_KIT if i.kind is kind)
    taken = {i.id for i in kit}
    ids = (plain.id, *(f"{plain.id}-{n}" for n in range(2, MOST + 2)))
    return (*kit, plain.model_copy(update={"id": next(x for x in ids if x not in taken)}))


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
        Nor is one whose ranges hold nothing of what is plausible there.
    """
    return tuple(
        i
        for i in kit
        if i.kind in asked.instruments
        and not unfit_for(asked, i, volts)
        and not i.is_overdue(on)
        and _reaches(i, asked)
    )


def _reaches(tool: Instrument, asked: Measurement) -> bool:
    """Whether a range of the instrument holds something of what is plausible."""
    rows = [a for a in tool.accuracy if a.dimension is asked.dimension]
    low, high = asked.plausible
    return not rows or any(a.reaches(low, high) for a in rows)
