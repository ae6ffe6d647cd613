"""What a load test asks for: volts at outlet and panel without and with load, and the current."""

from typing import Final

from checks.check import AnyInput, Choice, Measurement, Option, Rating, When
from checks.record import Category, InstrumentKind
from checks.stations.outlet.no_load import POINTS
from checks.stations.warmth.inputs import CLAMP
from checks.units import Dimension

# An outlet that carries no current shows the volts of the bus without anything being opened.
AT_PANEL: Final = (
    "guarded test points at the panel, or an unloaded outlet of this panel on the same lines"
)
LEGS: Final = When("plan", ("outlet_legs", "panel_legs", "two_steps"))
PANEL: Final = When("plan", ("panel", "panel_legs", "two_steps"))
PANEL_LEGS: Final = When("plan", ("panel_legs", "two_steps"))
SECOND: Final = When("plan", ("two_steps",))
FIRST_LEG: Final = "To neutral, or to ground where there is no neutral. Level 1: line to ground"
SECOND_LEG: Final = "To neutral, or to ground where there is no neutral. Level 1: neutral to ground"
AGAIN: Final = "Read again at the end: it shows whether the supply or the current moved"


def _volts(
    name: str, label: str, when: When | None = None, *, help_text: str = "", is_leg: bool = False
) -> Measurement:
    """Return one voltage; a leg may be a neutral, which reads next to nothing to ground."""
    return Measurement(
        name,
        label,
        plausible=(0.0, 150.0) if is_leg else (90.0, 270.0),
        instruments=(InstrumentKind.MULTIMETER,),
        category=Category.CAT_III,
        access_point=AT_PANEL if "panel" in name else POINTS,
        when=when,
        optional=when is not None,
        help=help_text,
    )


def _legs(name: str, label: str, when: When) -> tuple[Measurement, Measurement]:
    first, second = (name.format(leg=leg) for leg in ("l1", "l2"))
    return (
        _volts(first, label.format(leg="L1"), when, help_text=FIRST_LEG, is_leg=True),
        _volts(second, label.format(leg="L2"), when, help_text=SECOND_LEG, is_leg=True),
    )


def _current(
    name: str, label: str, when: When | None = None, *, optional: bool = False, help_text: str = ""
) -> Measurement:
    return Measurement(
        name,
        label,
        dimension=Dimension.CURRENT,
        units=("A",),
        plausible=(4.0, 100.0),
        instruments=(InstrumentKind.CLAMP,),
        category=Category.CAT_III,
        access_point=CLAMP,
        when=when,
        optional=optional,
        help=help_text,
    )


INPUTS: Final[tuple[AnyInput, ...]] = (
    Choice(
        "load",
        "What draws the current",
        options=(
            # no vehicle is charged through an adapter that is to be taken out of use
            Option("vehicle", "The vehicle", needs=("adapter.seating", "adapter.listing")),
            Option("test load", "A test load"),
        ),
    ),
    Choice(
        "plan",
        "Where volts are read",
        options=(
            Option("outlet", "Outlet alone"),
            Option("outlet_legs", "Outlet, each leg"),
            Option("panel", "Outlet and panel"),
            Option("panel_legs", "Outlet, panel, each leg"),
            Option("two_steps", "The same at two currents"),
        ),
        help="The panel tells the run from the supply, the legs tell where a joint hides, and a "
        "second current makes it surer",
    ),
    _volts("outlet_no_load", "Outlet, no load"),
    *_legs("{leg}_no_load", "Outlet {leg}, no load", LEGS),
    _volts("panel_no_load", "Panel, no load", PANEL),
    *_legs("panel_{leg}_no_load", "Panel {leg}, no load", PANEL_LEGS),
    _current("current", "Current"),
    _volts("outlet_loaded", "Outlet, loaded"),
    *_legs("{leg}_loaded", "Outlet {leg}, loaded", LEGS),
    _volts("panel_loaded", "Panel, loaded", PANEL),
    *_legs("panel_{leg}_loaded", "Panel {leg}, loaded", PANEL_LEGS),
    _current("current_again", "Current, again", PANEL, optional=True, help_text=AGAIN),
    _volts("outlet_again", "Outlet, loaded, again", PANEL, help_text=AGAIN),
    _current("second_current", "Second current", SECOND),
    _volts("second_outlet", "Outlet, second current", SECOND),
    *_legs("second_{leg}", "Outlet {leg}, second current", SECOND),
    _volts("second_panel", "Panel, second current", SECOND),
    *_legs("second_panel_{leg}", "Panel {leg}, second current", SECOND),
    Measurement(
        "air",
        "Air at the outlet",
        dimension=Dimension.TEMPERATURE,
        units=("°C", "°F"),
        plausible=(-30.0, 50.0),
        instruments=(InstrumentKind.CONTACT_THERMOMETER, InstrumentKind.INFRARED),
        access_point="air a meter away, out of the sun",
        signed=True,
        optional=True,
        help="Warm metal has more resistance: it tells how much of the drop the run explains",
    ),
    Rating(
        "minutes",
        "Minutes under load",
        dimension=Dimension.TIME,
        units=("min",),
        plausible=(60.0, 6 * 3600.0),
        optional=True,
        help="Until the loaded volts were read",
    ),
)
