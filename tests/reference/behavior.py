"""How circuits behave: breakers, leakage, supply, energy, sharing."""

from math import inf

from checks.codes import circuit, place, receptacle, sizing
from checks.electrical import (
    breaker,
    drop,
    energy,
    leakage,
    sharing,
    supply,
)
from tests.reference.case import Case, feet, nec

UL_489 = "UL 489 calibration"
ONE_TABLE = "one maker's table of rating against air temperature"


def _trip(ratio: float, hold: float, tau_s: float, seconds: float, before: float = 0.0) -> Case:
    return Case(
        "breaker",
        f"τ ln((m² - p²)/(m² - h²)), by hand: m {ratio:g}, h {hold:g}, τ {tau_s:g} s, p {before:g}",
        lambda: breaker.trip_time_s(ratio, hold, tau_s, before_ratio=before),
        seconds,
        0.6,
    )


BREAKER = (
    # holds 100 % at 40 °C; 135 % within an hour; 200 % within 2, 4, 6 min (from memory above 30 A)
    Case(
        "breaker",
        f"{UL_489}, 100 % at 40 °C",
        lambda: breaker.trip_spread_s(30, [30], air_c=40).fast_s,
        inf,
    ),
    *(
        Case(
            "breaker",
            f"{UL_489}, 200 % of {amps} A",
            lambda amps=amps: breaker.trip_spread_s(amps, [2 * amps]).slow_s,
            seconds,
            0.5,
        )
        for amps, seconds in ((20, 120), (30, 120), (40, 240), (50, 240), (100, 360))
    ),
    Case(
        "breaker",
        f"{UL_489}, 135 % of 50 A within an hour",
        lambda: breaker.trip_spread_s(50, [67.5]).slow_s < 3600,
        True,
    ),
    # a maker's factors on the rating: 40 °C 1.00, 50 °C 0.94, 60 °C 0.87, 25 °C 1.08
    *(
        Case(
            "breaker",
            f"{ONE_TABLE}, {air_c} °C",
            lambda air_c=air_c: breaker.hold_ratio(air_c, held_at_rated_air=1.0),
            ratio,
            0.006,  # the fit's residual
        )
        for air_c, ratio in ((10, 1.16), (25, 1.08), (40, 1.00), (50, 0.94), (60, 0.87), (70, 0.80))
    ),
    _trip(1.35, 1.2474, 120, 231),
    _trip(2.0, 1.2474, 120, 59),
    _trip(3.0, 1.2474, 120, 23),
    _trip(1.5, 1.2474, 120, 101, before=0.8),
    _trip(2.0, 1.2474, 244, 120),
    # 55 °C air and 30 K from a loose terminal: holds 0.789 of the rating
    Case(
        "breaker",
        "√((125 - 85)/85) × 1.15, by hand",
        lambda: breaker.hold_ratio(55, local_heat_k=30),
        0.789,
        0.0005,
    ),
)

LEAKAGE = (
    # a newsletter on charger safety: the 5 mA device upstream opens before the 20 mA one
    Case(
        "leakage",
        "IEEE newsletter, Safety of Electric Vehicle Supply Equipment: order of tripping",
        lambda: leakage.in_series(leakage.CLASS_A_DEVICE, leakage.CCID20, 6.0)[:3],
        (leakage.Opening(True, True), leakage.Opening(True, False), False),
    ),
    # NEC definition of GFCI, note: trips at 6 mA or higher, not below 4 mA
    Case(
        "leakage",
        "NEC definition of GFCI, note: not below 4 mA",
        lambda: leakage.in_series(leakage.CLASS_A_DEVICE, leakage.CCID20, 3.9).upstream,
        leakage.Opening(False, False),
    ),
    Case(
        "leakage",
        "UL 2231 as a public page quotes it: CCID20 opens at 20 mA, and no device waits",
        lambda: leakage.in_series(leakage.CLASS_A_DEVICE, leakage.CCID20, 20.0)[:3],
        (leakage.Opening(True, True), leakage.Opening(True, True), False),
    ),
)

SUPPLY = (
    *(
        Case(
            "supply",
            f"nominal systems of ANSI C84.1: {system.name}, {first} to {second}",
            lambda system=system, first=first, second=second: supply.nominal_between_v(
                system, first, second
            ),
            volts,
            0.5,
        )
        for system, first, second, volts in (
            (supply.SPLIT_PHASE, "L1", "L2", 240),
            (supply.WYE_208, "L1", "L2", 208),
            (supply.WYE_208, "L2", "ground", 120),
            (supply.HIGH_LEG_DELTA, "L2", "ground", 208),
            (supply.HIGH_LEG_DELTA, "L1", "L3", 240),
            (supply.WYE_480, "L1", "ground", 277),
        )
    ),
    # Kirchhoff: three equal loads between three pairs load each line √3 times
    Case(
        "supply",
        "circuit theory, by hand: 30 A between each pair, √3 × 30 A in each line",
        lambda: supply.line_currents_a(
            supply.WYE_208, {("L1", "L2"): 30, ("L2", "L3"): 30, ("L3", "L1"): 30}
        )["L2"],
        51.96,
        0.005,
    ),
    # 48 A, 6 AWG, 150 ft: 7.06 V by table 8; 3 % is 7.2 V of 240 V and 6.24 V of 208 V
    Case(
        "supply",
        "NEC 2023 chapter 9 table 8, by hand: 48 A over 150 ft within 3 %",
        lambda: [
            drop.smallest_size(
                0.03 * volts, 48, feet(150), circuit.design_ohm_per_m(nec(), "copper")
            )
            for volts in (240, 208)
        ],
        ["6 AWG", "4 AWG"],
    ),
)

EPA = "US DOT and EPA pages, as charging arithmetic"
ENERGY = (
    # 60 kWh from 20 to 80 % at 0.89: 40.4 kWh, 5.27 h at 7.68 kW; Level 1 at 0.84: 42.9 kWh, 29.8 h
    Case(
        "energy", "by hand: 36 / 0.89", lambda: energy.wall_energy_kwh(60, 20, 80, 0.89), 40.4, 0.05
    ),
    Case(
        "energy", "by hand: 36 / 0.84", lambda: energy.wall_energy_kwh(60, 20, 80, 0.84), 42.9, 0.05
    ),
    Case(
        "energy",
        "by hand: Level 2, 7.68 kW, lies around 5.27 h",
        lambda: [round(h, 2) for h in energy.charging_time_h(60, 20, 80, 7.68, 2)],
        [5.10, 5.39],
    ),
    # 27.4 kWh/100 mi at the wall: 1.44, 7.68 and 11.52 kW add 5.3, 28 and 42 mi in an hour
    *(
        Case(
            "energy",
            f"{EPA}: {kw} kW at 27.4 kWh/100 mi",
            lambda kw=kw: energy.range_per_hour_km(kw, 27.4 / 1.609344) / 1.609344,
            miles,
            tolerance,
        )
        for kw, miles, tolerance in ((1.44, 5.3, 0.05), (7.68, 28, 0.5), (11.52, 42, 0.5))
    ),
    Case(
        "energy",
        "common practice, no source: a 30 A unit at 208 V gives 6.2 to 6.3 kW",
        lambda: 6.2 <= energy.power_kw(208, 30) <= 6.3,
        True,
    ),
    Case(
        "energy",
        "common practice, no source: 13 A continuous is too much for 15 A",
        lambda: circuit.largest_charger_a(nec(), 15).value < 13,
        True,
    ),
)


def _share(limit_a: float, wishes_a: list[float]) -> list[float]:
    return [round(amps, 3) for amps in sharing.fair_share_a(limit_a, wishes_a)]


SHARING = (
    Case(
        "sharing",
        "625.42 Rating, continuing-education page: three 30 A units share 80 A, two take 30 A each",
        lambda: [_share(80, [30, 30, 30])[0], *_share(80, [30, 30])],
        [26.667, 30.0, 30.0],
        is_worked=True,
    ),
    Case(
        "sharing",
        "max-min fairness, by hand",
        lambda: _share(80, [16, 32, 48, 48]),
        [16.0, 21.333, 21.333, 21.333],
    ),
    Case(
        "sharing",
        "max-min fairness and 6 A, by hand: 14 on 80 A, one waits",
        lambda: _share(80, [32] * 14),
        [6.154] * 13 + [0.0],
    ),
    Case(
        "sharing",
        "max-min fairness and 6 A, by hand: 6 on 32 A, one waits",
        lambda: _share(32, [32] * 6),
        [6.4] * 5 + [0.0],
    ),
)

PLACE = (
    # table 625.52(B), printed in cubic feet a minute: 40 A 197, 100 A 493; 30 A at 120 V by 48.7
    *(
        Case(
            "ventilation",
            f"NEC 2023 table 625.52(B), 240 V {amps} A",
            lambda amps=amps: place.ventilation_m3_per_min(nec(), 240, amps).value / 0.3048**3,
            cfm,
            0.5,
        )
        for amps, cfm in ((15, 74), (40, 197), (100, 493))
    ),
    Case(
        "ventilation",
        "NEC 2023 625.52(B)(2), by hand: 120 V × 20 A / 48.7",
        lambda: place.ventilation_m3_per_min(nec(), 120, 20).value / 0.3048**3,
        49.3,
        0.05,
    ),
    Case(
        "dwelling service",
        "NEC 2023 table 310.12(A)",
        lambda: [sizing.dwelling_service_size(nec(), a, "copper").size for a in (100, 200, 400)],
        ["4 AWG", "2/0 AWG", "400 kcmil"],
    ),
    Case(
        "dwelling service",
        "NEC 2023 table 310.12(A)",
        lambda: [sizing.dwelling_service_size(nec(), a, "aluminum").size for a in (100, 200, 225)],
        ["2 AWG", "4/0 AWG", "250 kcmil"],
    ),
    Case(
        "dwelling service",
        "NEC 2023 625.41, by hand: 30 A and 40 A × 1.25",
        lambda: circuit.required_feeder_a(nec(), 40, 30).value,
        80.0,
    ),
    # poles and wires as the chart prints them, and what 80 % leaves
    *(
        Case(
            "receptacles",
            f"NEMA WD 6 chart, {name}",
            lambda name=name: _row(name),
            (poles, wires, amps),
        )
        for name, poles, wires, amps in (
            ("5-15", 2, 3, 12.0),
            ("5-20", 2, 3, 16.0),
            ("6-15", 2, 3, 12.0),
            ("6-20", 2, 3, 16.0),
            ("6-30", 2, 3, 24.0),
            ("6-50", 2, 3, 40.0),
            ("10-30", 3, 3, 24.0),
            ("10-50", 3, 3, 40.0),
            ("14-30", 3, 4, 24.0),
            ("14-50", 3, 4, 40.0),
            ("14-60", 3, 4, 48.0),
            ("TT-30", 2, 3, 24.0),
            ("L6-30", 2, 3, 24.0),
            ("L14-30", 3, 4, 24.0),
        )
    ),
)


def _row(name: str) -> tuple[int, int, float]:
    found = receptacle.permits(nec(), name)
    return found.configuration.poles, found.configuration.wires, found.charger_a.value


CASES = (*BREAKER, *LEAKAGE, *SUPPLY, *ENERGY, *SHARING, *PLACE)
