"""What is asked where a surface is watched under load: how, its course, stop signs."""

from typing import Final

from checks.check import AnyInput, Caution, Choice, Option, Series
from checks.electrical.heat_forecast_stop import STOP_C, STOP_RISE_K
from checks.record import Category, InstrumentKind
from checks.stations.warmth.words import STOP_F, STOP_RISE_F
from checks.units import Dimension
from checks.verdict import Severity

# Both adapters bring out one guarded conductor with every cover closed: nobody need open anything.
CLAMP: Final = (
    "clamp on the guarded single conductor of a listed break-out adapter, at the receptacle or "
    "between connector and inlet"
)
CAUTIONS: Final = (
    Caution(
        Severity.WARNING,
        f"Stop at {STOP_C:g} °C ({STOP_F:g} °F) or {STOP_RISE_K:g} K ({STOP_RISE_F:g} °F) over the "
        "air, on smell, discoloration, smoke or a rise that gets faster: reduce or stop the "
        "current from a safe point. Touch nothing that may be hot.",
    ),
)
PART_EVERY_S: Final = 120.0
AROUND_EVERY_S: Final = 600.0  # air and current move slowly
_WITH: Final = (InstrumentKind.CONTACT_THERMOMETER, InstrumentKind.INFRARED)


def warmth_inputs(part: str, like: str = "") -> tuple[AnyInput, ...]:
    """Return the inputs of a surface that is watched under load.

    Parameters
    ----------
    part : str
        What is measured.
    like : str
        A like part to compare it with, where there is one.
    """
    inputs: list[AnyInput] = [
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
        _temperature("ambient", "Air, out of the sun", "air a meter away", AROUND_EVERY_S),
        Series(
            "current",
            "Current",
            dimension=Dimension.CURRENT,
            units=("A",),
            plausible=(4.0, 100.0),
            instruments=(InstrumentKind.CLAMP,),
            category=Category.CAT_III,
            access_point=CLAMP,
            every_s=AROUND_EVERY_S,
        ),
        _temperature("surface", "Hottest surface", part, PART_EVERY_S),
    ]
    if like:
        inputs.append(_temperature("like_part", "Like part", like, PART_EVERY_S, optional=True))
    return (*inputs, _sign())


def _temperature(
    name: str, label: str, where: str, every_s: float, *, optional: bool = False
) -> Series:
    return Series(
        name,
        label,
        dimension=Dimension.TEMPERATURE,
        units=("°C", "°F"),
        plausible=(-30.0, 50.0) if name == "ambient" else (-30.0, 120.0),
        instruments=_WITH,
        access_point=where,
        signed=True,
        optional=optional,
        every_s=every_s,
    )


def _sign() -> Choice:
    """Ask last, so that the answer covers the whole test; a sign that is seen ends it at once."""
    return Choice(
        "sign",
        "Stop sign",
        options=(
            Option("none", "None, all the time"),
            Option("smell", "Smell of heat", ends=True),
            Option("discoloration", "Discoloration, softening", ends=True),
            Option("smoke", "Smoke, hiss or crackle", ends=True),
            Option("accelerating", "Rises faster and faster", ends=True),
        ),
    )
