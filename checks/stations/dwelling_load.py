"""A dwelling's load, calculated from what it has by every method of the code."""

from typing import Final

from checks.check import (
    AnyInput,
    Rating,
    Situation,
    When,
    YesNo,
    compare,
    known_part,
    not_measured,
    unsettled,
)
from checks.codes.answer import Outcome
from checks.codes.dwelling import DwellingLoad, Service
from checks.codes.headroom import (
    DwellingRoom,
    dwelling_room,
    largest_charger_in_dwelling_a,
    relief,
)
from checks.errors import ChecksError
from checks.quantity import rounded_down
from checks.stations.circuit_facts import ChargerLoads, charger_loads, is_dwelling, nominal_v
from checks.units import Dimension
from checks.verdict import Judgement, Limit, Severity

METHOD: Final = "dwelling"
ASKED: Final = When("method", (METHOD,))
WHY: Final = "An overloaded service heats its joints, and its main trips when the load is greatest"


def _rating(
    name: str,
    label: str,
    dimension: Dimension,
    units: tuple[str, ...],
    most: float,
    asks: str = "",
) -> Rating:
    return Rating(
        name,
        label,
        dimension=dimension,
        units=units,
        plausible=(0.0, most),
        when=ASKED,
        help=asks,
    )


def _area(name: str, label: str, asks: str) -> Rating:
    return _rating(name, label, Dimension.AREA, ("m²", "ft²"), 1000.0, asks)


def _count(name: str, label: str, asks: str) -> Rating:
    return _rating(name, label, Dimension.COUNT, ("pcs",), 20.0, asks)


def _load(name: str, label: str, asks: str = "From the nameplate; 0 without") -> Rating:
    return _rating(name, label, Dimension.APPARENT_POWER, ("kVA", "VA"), 60_000.0, asks)


INPUTS: Final[tuple[AnyInput, ...]] = (
    YesNo("is_new", "New dwelling", when=ASKED, help="Yes where it is not lived in yet"),
    _area("floor_area", "Floor area", "Outside dimensions, without garages and open porches"),
    _area("basement_area", "Basement above 1.8 m", "Inside dimensions; 0 without"),
    _count("appliance_circuits", "Kitchen circuits", "20 A circuits for small appliances"),
    _count("laundry_circuits", "Laundry circuits", "20 A circuits for the laundry"),
    _load("range_va", "Range and ovens"),
    _load("dryer_va", "Clothes dryer"),
    _load("water_heater_va", "Water heater with tank"),
    _load("heated_water_va", "Tankless, pool, spa heaters"),
    _load("other_va", "Other fixed appliances", "The sum of all that is fastened in place"),
    _load("heating_va", "Electric heating", "Beside a heat pump its supplementary heat"),
    _count("heating_units", "Heaters with own control", "0 where there is no electric heating"),
    _load("heat_pump_va", "Heat pump, compressor"),
    _load("cooling_va", "Air conditioning"),
    YesNo("is_interlocked", "Never both at a time", when=ASKED, help="Heating and cooling"),
    YesNo("adds_climate", "Adds heating or cooling", when=ASKED, help="With this work"),
)


def judge_dwelling(s: Situation, check: str, limit: Limit, *, managed_a: float | None) -> Judgement:
    """Judge the calculated load of the dwelling, chargers included, against its service.

    Parameters
    ----------
    s : Situation
        What was recorded.
    check : str
        The check that asks `INPUTS`.
    limit : Limit
        The rating to stay within.
    managed_a : float or None
        What load management lets all chargers draw; None without.
    """
    if not is_dwelling(s):
        return not_measured("The site is no dwelling: use another way to know the demand", (limit,))
    service = Service(limit.value, float(s.visit.system.level_2_v))
    unsaid = [i for i in INPUTS if _said(s, check, i) is None]
    words = f"Still open: {', '.join(i.label.lower() for i in unsaid)}" if unsaid else ""
    if not all(_is_load(i) for i in unsaid):  # what decides how the loads count
        return not_measured(words, (limit,))
    loads = charger_loads(s)
    missing = ". ".join(filter(None, (words, loads.missing)))
    dwelling = _dwelling(s, check, loads, None if managed_a is None else service.va(managed_a))
    return known_part(_judge_known(s, dwelling, service, limit), missing)


def _is_load(asked: AnyInput) -> bool:
    return isinstance(asked, Rating) and asked.dimension is Dimension.APPARENT_POWER


def _judge_known(s: Situation, dwelling: DwellingLoad, service: Service, limit: Limit) -> Judgement:
    """Judge the dwelling with the loads that are recorded."""
    try:
        room = dwelling_room(s.code, dwelling, service)
        largest, management, working = _what_fits(s, dwelling, service)
    except ChecksError as error:  # the code's methods do not answer it
        return not_measured(f"{error.problem}. {error.remedy}", (limit,))
    words = f"{room.ruling.why[:1].upper()}{room.ruling.why[1:]}. {largest}"
    return _judge_room(room, limit, words, management, working)


def _dwelling(
    s: Situation, check: str, loads: ChargerLoads, managed_va: float | None
) -> DwellingLoad:
    """Return what the dwelling has, with the chargers whose current is recorded."""
    said = {i.name: _said(s, check, i) for i in INPUTS}
    number = {name: float(value or 0.0) for name, value in said.items()}
    plates = (("water heater", "water_heater_va"), ("fixed appliances", "other_va"))
    return DwellingLoad(
        floor_area_m2=number["floor_area"],
        basement_area_m2=number["basement_area"],
        appliance_circuits=int(number["appliance_circuits"]),
        laundry_circuits=int(number["laundry_circuits"]),
        nameplates_va=tuple((what, number[name]) for what, name in plates if number[name]),
        heating_va=number["heating_va"],
        heating_units=int(number["heating_units"]),
        cooling_va=number["cooling_va"],
        charger_va=sum(nominal_v(here) * load_a for here, load_a in loads.known),
        range_va=number["range_va"],
        dryer_va=number["dryer_va"],
        heat_pump_va=number["heat_pump_va"],
        heated_water_va=number["heated_water_va"],
        is_interlocked=bool(said["is_interlocked"]),
        adds_climate=bool(said["adds_climate"]),
        is_existing=not said["is_new"],
        charger_count=max(1, len(loads.known)),
        managed_va=managed_va,
    )


def _said(s: Situation, check: str, asked: AnyInput) -> float | bool | None:
    reference = f"{check}.{asked.name}"
    return s.yes(reference) if isinstance(asked, YesNo) else s.rating(reference)


def _what_fits(
    s: Situation, dwelling: DwellingLoad, service: Service
) -> tuple[str, str, tuple[str, ...]]:
    """Return the largest charger that fits, what load management changes, and their working."""
    lenient, cautious = largest_charger_in_dwelling_a(s.code, dwelling, service)
    held = relief(s.code, dwelling, service)
    limit_a = rounded_down(held.charger_limit_a.value, 1)
    setpoint_a = rounded_down(held.service_setpoint_a.value)
    one_a, both_a = rounded_down(lenient.value, 1), rounded_down(cautious.value, 1)
    most = f"Chargers of up to {both_a:.1f} A together fit"
    largest = most if one_a == both_a else f"{most} by either reading, {one_a:.1f} A by one"
    management = (
        f"load management that holds the chargers to {limit_a:.1f} A together, or service and "
        f"chargers to {setpoint_a:.0f} A, would fit"
    )
    lines = (lenient.working[-1], cautious.working[-1], held.charger_limit_a.working[-1])
    return largest, management, (*lines, *held.service_setpoint_a.working)


def _judge_room(
    room: DwellingRoom, limit: Limit, words: str, management: str, working: tuple[str, ...]
) -> Judgement:
    remedy = f"Choose a smaller current, add load management, or enlarge it: {management}"
    if room.ruling.outcome is Outcome.READ_TWO_WAYS:
        return unsettled(
            f"It fits by one reading only. {words}",
            "Ask the authority having jurisdiction which reading holds here",
            why=WHY,
            remedy=remedy,
            limits=(limit,),
            sources=room.ruling.sources,
            working=(*room.working, *working),
        )
    return compare(
        room.total_a,
        "A",
        (limit,),
        explanation=words,
        why=WHY,
        remedy=remedy,
        severity=Severity.WARNING,
        sources=room.ruling.sources,
        working=(*room.working, *working),
    )
