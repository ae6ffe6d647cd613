"""Control pilot, proximity and ground-fault trip."""

from checks.electrical import ground_fault, pilot, proximity
from checks.electrical.pilot import DutyBand, PilotState
from checks.electrical.pilot_faults import Fault, suspicions
from checks.electrical.proximity import ProximityState
from tests.reference.case import Case

SUBJECT = "pilot"
WINDOWS = "SAE J1772, state voltages as quoted in a public C header"
MANUAL = "manual of a charging test adapter after IEC 61851-1, table 4, current against duty cycle"
SAE = "SAE J1772 OCT2017, duty cycle"
UL_943 = "UL 943, Class A"


def _offer(duty_pct: float, current_a: float) -> Case:
    # the manual prints one decimal
    return Case(
        SUBJECT,
        f"{MANUAL}, {duty_pct:g} %",
        lambda: pilot.offered(duty_pct).current_a,
        current_a,
        0.05,
        is_worked=True,
    )


def _state(positive_v: float, state: PilotState | None, *, is_inside: bool = True) -> Case:
    return Case(
        SUBJECT,
        f"{WINDOWS}, {positive_v:g} V",
        lambda: pilot.classify(positive_v),
        (state, is_inside),
    )


def _band(duty_pct: float, band: DutyBand) -> Case:
    return Case(SUBJECT, f"{MANUAL}, bands", lambda: pilot.offered(duty_pct).band, band)


PILOT = (
    _offer(8, 6.0),
    _offer(10, 6.0),
    _offer(13, 7.8),
    _offer(20, 12.0),
    _offer(25, 15.0),
    _offer(30, 18.0),
    _offer(38, 22.8),
    _offer(45, 27.0),
    _offer(52, 31.2),
    _offer(60, 36.0),
    _offer(66, 39.6),
    _offer(70, 42.0),
    _offer(75, 45.0),
    _offer(80, 48.0),
    _offer(85, 51.0),
    _offer(86, 55.0),
    _offer(88, 60.0),
    _offer(90, 65.0),
    _offer(92, 70.0),
    _offer(94, 75.0),
    _offer(96, 80.0),
    _offer(97, 80.0),
    _band(2.9, DutyBand.TOO_LOW),
    _band(5, DutyBand.DIGITAL),
    _band(7.5, DutyBand.GAP),
    _band(100, DutyBand.TOO_HIGH),
    # the inverse, published for 30 A: 50 %; on the upper slope 65 A: 90 %
    Case(SUBJECT, f"{SAE}, 30 A", lambda: pilot.duty_for(30), 50.0, 0.05),
    Case(SUBJECT, f"{SAE}, 65 A", lambda: pilot.duty_for(65), 90.0, 0.05),
    # window edges, inclusive, and just beyond
    _state(12.60, PilotState.A),
    _state(8.36, PilotState.B),
    _state(8.35, PilotState.B, is_inside=False),
    _state(9.56, PilotState.B),
    _state(6.49, PilotState.C),
    _state(5.48, PilotState.C),
    _state(5.47, PilotState.C, is_inside=False),
    _state(3.25, PilotState.D),
    _state(0.0, PilotState.E),
    _state(-12.0, PilotState.F),
    # circuit simulation: +270 Ω in state C gives 6.770 V, no longer inside; shorted diode -8.8 V
    _state(6.770, PilotState.C, is_inside=False),
    Case(
        SUBJECT,
        f"{WINDOWS}, negative peak with the diode shorted (circuit simulation)",
        lambda: [each.fault for each in suspicions(8.791, -8.791, is_vehicle_there=True)][:1],
        [Fault.DIODE_SHORTED],
    ),
    Case(
        SUBJECT,
        f"{WINDOWS}, negative peak",
        lambda: suspicions(9.0, -11.4, is_vehicle_there=True),
        (),
    ),
)

PROXIMITY = (
    Case(
        "proximity",
        "support article, Basics of the J1772 standard: 150 Ω, button free",
        lambda: proximity.classify(150),
        ProximityState.LATCHED,
    ),
    Case(
        "proximity",
        "support article, Basics of the J1772 standard: 480 Ω, button pressed",
        lambda: proximity.classify(480),
        ProximityState.PRESSED,
    ),
    # ±10 % (from memory): 135 to 165 Ω
    Case(
        "proximity",
        "SAE J1772, resistors ±10 % (from memory)",
        lambda: [proximity.classify(ohm) for ohm in (134, 135, 165, 166)],
        [
            ProximityState.NEITHER,
            ProximityState.LATCHED,
            ProximityState.LATCHED,
            ProximityState.NEITHER,
        ],
    ),
)

GROUND_FAULT = (
    # T = (20/I)^1.43 by hand (logarithms): 6, 10, 100, 264 mA
    Case(
        "ground fault",
        f"{UL_943}, by hand",
        lambda: ground_fault.trip_time_limit_s(6),
        5.594,
        0.0005,
    ),
    Case(
        "ground fault",
        f"{UL_943}, by hand",
        lambda: ground_fault.trip_time_limit_s(10),
        2.694,
        0.0005,
    ),
    Case(
        "ground fault",
        f"{UL_943}: 20 mA in one second",
        lambda: ground_fault.trip_time_limit_s(20),
        1.0,
        0.0005,
    ),
    # two trade texts print 25 ms, which is the end of the curve
    Case(
        "ground fault",
        "trade forum quoting a maker: 0.025 s at the end of the curve",
        lambda: ground_fault.trip_time_limit_s(264),
        0.025,
        0.0005,
    ),
    Case(
        "ground fault",
        "NEC definition of GFCI, note: trips at 6 mA or higher, not below 4 mA",
        lambda: (ground_fault.NO_TRIP_MA, ground_fault.MUST_TRIP_MA),
        (4.0, 6.0),
    ),
    # 120 V through 15 kΩ is 8 mA: 3.71 s
    Case(
        "ground fault",
        f"{UL_943} and Ohm's law, by hand",
        lambda: ground_fault.trip_time_limit_s(1000 * 120 / 15_000),
        3.707,
        0.0005,
    ),
)

CASES = PILOT + PROXIMITY + GROUND_FAULT
