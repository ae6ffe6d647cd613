"""What is asked about the room on a service or a panel."""

from collections.abc import Mapping
from typing import Final

from checks.check import AnyInput, Choice, Option, Rating, When, YesNo
from checks.stations import dwelling_load
from checks.stations.circuit_facts import is_dwelling

MEASURED: Final[Mapping[str, int]] = {"year": 365, "month": 30}  # way to know it, days of record
BY_HAND: Final = (*MEASURED, "calculated")
KNOWN: Final = When("method", BY_HAND)
MANAGED: Final = When("is_managed", ("yes",))


def room_inputs(*, is_whole: bool) -> tuple[AnyInput, ...]:
    """Return the inputs.

    Parameters
    ----------
    is_whole : bool
        The whole site hangs on it, so that a dwelling's load can be calculated here.
    """
    dwelling = Option(dwelling_load.METHOD, "Calculate the dwelling", where=is_dwelling)
    here = (dwelling,) if is_whole else ()
    return (
        Choice(
            "method",
            "How the demand is known",
            options=(
                Option("year", "12 months, measured"),
                Option("month", "30 days, recorded"),
                Option("calculated", "Load calculation at hand"),
                *here,
            ),
        ),
        Rating(
            "demand_a",
            "Existing demand",
            units=("A",),
            plausible=(1.0, 400.0),
            when=KNOWN,
            help="Highest loaded line; 30 days: highest 15-minute average, with the season's "
            "heating or cooling added",
        ),
        YesNo(
            "is_included",
            "Holds the chargers already",
            when=KNOWN,
            help="Yes where they charged while it was measured, or are in the calculation",
        ),
        YesNo(
            "is_generating",
            "Generation or peak shaving",
            good=False,
            says=("Present", "None"),
            when=When("method", ("month",)),
            help="Solar, wind, battery or any means that hides part of the demand",
        ),
        *(dwelling_load.INPUTS if is_whole else ()),
        YesNo("is_managed", "Limited by load management"),
        Choice(
            "manages",
            "What is held to a limit",
            options=(
                Option("chargers", "All chargers together"),
                Option("service", "House and chargers together"),
            ),
            when=MANAGED,
        ),
        Rating(
            "managed_a",
            "Its limit",
            units=("A",),
            plausible=(6.0, 400.0),
            when=MANAGED,
            help="The most that the listed system lets them draw together",
        ),
    )
