"""The service: its rating, the room on it for the chargers, and other sources on its bus."""

from typing import Final

from checks.check import (
    EVERY,
    Caution,
    Check,
    Choice,
    Option,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    known_part,
    not_measured,
    seen,
    together,
    unsettled,
)
from checks.codes.sizing import dwelling_service_size
from checks.electrical.conductor import KCMIL, SIZES, area_mm2
from checks.errors import OutOfTableError
from checks.source import trade
from checks.stations.circuit_facts import has_line_3, is_dwelling
from checks.stations.observing import rule_source
from checks.stations.room import room_judge
from checks.stations.room_inputs import room_inputs
from checks.stations.service_main import is_asked_at_service, largest_main_a, main_of
from checks.verdict import Force, Judgement, Limit, Severity, at_most


def _judge_rating(s: Situation) -> Judgement:
    service_a = s.rating("service.rating.service_a")
    if service_a is None:
        return not_measured("Read the service's rating from label, conductors or meter base")
    main_a = largest_main_a(s)  # that two records of one main differ is found at its panel
    source = rule_source(s, "service protection")
    limit = at_most(service_a, "A", Force.CODE_RULE, source, of="service rating")
    if main_a is None:
        return not_measured("Read the main's rating from its handle", (limit,))
    main = compare(
        main_a,
        "A",
        (limit,),
        explanation=f"Main {main_a:g} A on a service rated {service_a:g} A",
        why="A main above the rating lets conductors and bus carry more than they bear",
        remedy="Keep added load off; have the main or the service corrected by its owner's "
        "electrician with the utility",
        severity=Severity.WARNING,
        telling=f"{main_a:g} A",
    )
    return together((main, *_judge_conductors(s, main_a)), telling=main.telling)


def _judge_conductors(s: Situation, main_a: float) -> tuple[Judgement, ...]:
    """Judge the service conductors of a dwelling, where they were read and the code has a table.

    The table is of single-phase services; others go by ampacity, which takes more than the print.
    """
    size, metal = s.choice("service.rating.conductor"), s.choice("service.rating.metal")
    if size is None or metal is None or not is_dwelling(s) or has_line_3(s):
        return ()
    try:
        least = dwelling_service_size(s.code, main_a, metal)
    except OutOfTableError:  # sized by ampacity then
        return ()
    is_enough = area_mm2(size) >= area_mm2(least.size)
    judged = seen(
        is_enough,
        explanation=f"Service conductors {size} {metal}; a dwelling's service of {main_a:g} A, "
        f"where nothing heats or crowds them, takes {least.size} or larger",
        source=least.source,
        why="Conductors that are too small cook their insulation before the main trips",
        remedy="Add no load; have main or conductors corrected by the owner's electrician with "
        "the utility",
    )
    return (judged.model_copy(update={"working": least.working}),)


def service_rating_a(s: Situation) -> float | None:
    """Return the lesser of service and main [A]."""
    service_a = s.rating("service.rating.service_a")
    if service_a is None:  # the panel is not asked for a main that the service's own check tells
        return None
    main_a = main_of(s).least_a
    return None if main_a is None else min(service_a, main_a)


SERVICE_SIZES: Final = (*SIZES, *KCMIL)
OPPOSITE: Final = "opposite end"
AHEAD: Final = "ahead"


def _judge_sources(s: Situation) -> Judgement:
    present = s.yes("service.other_sources.is_present")
    if present is None:
        return not_measured("Look for solar, battery, generator, exporting charger")
    if not present:
        return seen(
            True,
            explanation="No other source feeds this service",
            source=trade("a source leaves a breaker, a disconnect or a placard"),
        )
    place = s.choice("service.other_sources.place")
    bus_a, device_a = (
        s.rating("service.other_sources.bus_a"),
        s.rating("service.other_sources.device_a"),
    )
    if place == AHEAD:
        return unsettled(
            "The source feeds in ahead of the main: it adds nothing to the bus",
            "Whether the service bears both is for the utility and the authority: ask them",
            severity=Severity.NOTICE,
            sources=(
                trade("a source ahead of the main puts nothing on the bus, as NEC 705.11 has it"),
            ),
        )
    if place is None or bus_a is None:
        return not_measured("Still open: where it feeds in, and the bus's rating")
    limit = _bus_limit(s, place, bus_a)
    output_a = s.rating("service.other_sources.output_a")
    return _judge_bus(s, limit, device_a, output_a)


def _bus_limit(s: Situation, place: str, bus_a: float) -> Limit:
    rule = s.code.installation.bus_ratio[place]
    return at_most(
        bus_a * rule.value,
        "A",
        rule.force,
        rule.source,
        of="all sources on the bus",
        working=(f"bus {bus_a:g} A × {rule.value:g} = {bus_a * rule.value:g} A ({rule.source})",),
    )


def _judge_bus(
    s: Situation, limit: Limit, device_a: float | None, output_a: float | None
) -> Judgement:
    ratio = s.code.installation.source_output_ratio
    total_a = (device_a or 0.0) + (output_a or 0.0) * ratio.value
    labels = (("the device ahead of it", device_a), ("the output", output_a))
    left = ", ".join(label for label, read_a in labels if read_a is None)
    missing = f"Still open: {left}" if left else ""
    words, working = f"{total_a:g} A on the bus", ""
    if device_a is not None and output_a is not None:
        words = (
            f"Device {device_a:g} A and {ratio.value:g} × {output_a:g} A of other sources add up "
            f"to {total_a:g} A on the bus"
        )
        working = f"{device_a:g} A + {output_a:g} A × {ratio.value:g} = {total_a:g} A"
    judged = compare(
        total_a,
        "A",
        (limit,),
        explanation=words,
        why="Fed from two sides, a bus can carry more than any one breaker shows",
        remedy="Add no load to this bus until the interconnection is reviewed: the code has other "
        "ways, such as the sum of all breakers on the bus or a listed power control system; or "
        "feed the chargers from a panel that the other source does not share",
        severity=Severity.WARNING,
        working=tuple(filter(None, [working])),
    )
    return known_part(judged, missing)


PRESENT: Final = When("is_present", ("yes",))
ON_BUS: Final = When("place", (OPPOSITE, "elsewhere"))
CHECKS: Final = (
    Check(
        id="service.rating",
        title="Service rating",
        quantity="Main",
        how="Read the rating of the service equipment from its label and that of the main from "
        "its handle, if its panel has not told it. The meter's own number is not the rating.",
        inputs=(
            Rating("service_a", "Service rating", units=("A",), plausible=(60.0, 800.0)),
            Rating(
                "main_a",
                "Main breaker or fuse",
                plausible=(60.0, 800.0),
                against=EVERY,
                where=is_asked_at_service,
            ),
            Choice(
                "conductor",
                "Service conductors",
                options=tuple(Option(size) for size in SERVICE_SIZES),
                optional=True,
                help="By the print on the cable, only where it shows with covers on",
            ),
            Choice(
                "metal",
                "Their metal",
                options=(Option("copper", "Copper"), Option("aluminum", "Aluminum")),
                optional=True,
                when=When("conductor", SERVICE_SIZES),
            ),
        ),
        judge=_judge_rating,
        tells=True,
    ),
    Check(
        id="service.load",
        title="Room on the service",
        quantity="Load",
        how="Take the highest demand from 12 months of utility data, from 30 days of recording, "
        "or from a load calculation; a dwelling can be calculated here, from its area and "
        "nameplates. Adding up breaker handles is no load calculation.",
        inputs=room_inputs(is_whole=True),
        judge=room_judge("service.load", service_rating_a, "service"),
    ),
    Check(
        id="service.other_sources",
        title="Other sources",
        quantity="Sources",
        how="With covers on look for placards, backfed breakers, inverters and transfer switches. "
        "Read output current and bus rating from the labels.",
        inputs=(
            YesNo("is_present", "Solar, battery or generator"),
            Choice(
                "place",
                "Where it feeds in",
                options=(
                    Option(AHEAD, "Ahead of the main"),
                    Option(OPPOSITE, "Bus, opposite end from main"),
                    Option("elsewhere", "Elsewhere on the bus"),
                ),
                when=PRESENT,
            ),
            Rating("bus_a", "Rating of that bus", plausible=(60.0, 800.0), when=ON_BUS),
            Rating("device_a", "Device ahead of that bus", plausible=(30.0, 800.0), when=ON_BUS),
            Rating(
                "output_a",
                "Output of all other sources",
                plausible=(1.0, 400.0),
                when=ON_BUS,
                help="Rated output current from the label, not the breaker's number",
            ),
        ),
        judge=_judge_sources,
        cautions=(
            Caution(
                Severity.WARNING,
                "With another source on the bus, the main off does not make it dead.",
            ),
        ),
    ),
)
