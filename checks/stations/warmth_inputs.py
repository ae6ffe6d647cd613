"""What is asked where a surface temperature is taken under load."""

from typing import Final

from checks.check import AnyInput, Caution, Choice, Measurement, Option, Rating
from checks.quantity import Dimension
from checks.record import Category, InstrumentKind
from checks.verdict import Severity

TOUCH_C: Final = 60.0
# Both adapters bring out one guarded conductor with every cover closed: nobody need open anything.
CLAMP: Final = (
    "clamp on the guarded single conductor of a listed break-out adapter, at the receptacle or "
    "between connector and inlet"
)
CAUTIONS: Final = (
    Caution(
        Severity.WARNING,
        f"Stop at {TOUCH_C:g} °C, on smell, discoloration or a rise that gets faster: reduce or "
        "stop the current from a safe point. Touch nothing that may be hot.",
    ),
)


def warmth_inputs(part: str, like: str = "") -> tuple[AnyInput, ...]:
    """Return the inputs of a surface temperature.

    Parameters
    ----------
    part : str
        What is measured.
    like : str
        A like part to compare it with, where there is one.
    """
    inputs: list[AnyInput] = [
        Choice(
            "sign",
            "Stop sign",
            options=(
                Option("none", "None"),
                Option("smell", "Smell of heat"),
                Option("discoloration", "Discoloration, softening"),
                Option("accelerating", "Rises faster and faster"),
            ),
        ),
        Choice(
            "method",
            "Method",
            options=(
                Option("contact", "Contact probe"),
                Option("infrared_matte", "Infrared on a matte surface"),
                Option("infrared_metal", "Infrared on bare metal"),
            ),
            help="Emissivity of matte plastic, paint or tape is about 0.95; bare metal reflects",
        ),
        _temperature("surface", "Hottest surface", part, (-30.0, 120.0)),
        _temperature("ambient", "Air, out of the sun", "air a meter away", (-30.0, 50.0)),
        Rating(
            "minutes",
            "Minutes at this current",
            dimension=Dimension.TIME,
            units=("min",),
            plausible=(60.0, 6 * 3600.0),
        ),
        Measurement(
            "current",
            "Current",
            dimension=Dimension.CURRENT,
            units=("A",),
            plausible=(4.0, 100.0),
            instruments=(InstrumentKind.CLAMP,),
            category=Category.CAT_III,
            access_point=CLAMP,
        ),
    ]
    if like:
        inputs.append(_temperature("like_part", "Like part", like, (-30.0, 120.0), True))
    return tuple(inputs)


def _temperature(
    name: str, label: str, where: str, plausible: tuple[float, float], optional: bool = False
) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.TEMPERATURE,
        units=("°C", "°F"),
        plausible=plausible,
        instruments=(InstrumentKind.CONTACT_THERMOMETER, InstrumentKind.INFRARED),
        access_point=where,
        signed=True,
        optional=optional,
    )
