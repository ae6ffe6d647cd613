"""What a judge makes of a reading, verdict and severity, against a clause or a standard's number.

Each row is a sound visit with the answers of one check put otherwise. ``common practice`` marks
what every electrician does and no text that was read prints.
"""

from collections.abc import Mapping
from functools import cache
from math import exp
from typing import Any, TypeAlias

from checks.record import Coupler, InstrumentKind, Panel, Visit, VisitKind
from checks.verdict import Judgement, Severity, Verdict
from tests.builders import PANEL, judge, point, visit, with_entries
from tests.reference.case import Case
from tests.sound_visits import RECEPTACLE, built

SUBJECT = "judgements"
Answers: TypeAlias = Mapping[str, Any]
Said: TypeAlias = tuple[Verdict, Severity | None]
GOOD: Said = (Verdict.WITHIN, None)
DANGER: Said = (Verdict.OUTSIDE, Severity.DANGER)
WARNING: Said = (Verdict.OUTSIDE, Severity.WARNING)
CAUTION: Said = (Verdict.OUTSIDE, Severity.CAUTION)
NOTICE: Said = (Verdict.OUTSIDE, Severity.NOTICE)


def _said(found: Judgement) -> Said:
    return found.verdict, found.severity


def _sound(document: str, check: str, answers: Answers, expected: Said) -> Case:
    """One check of the sound visit, with these answers instead of its own."""
    made = built("receptacle", {check: answers})
    return Case(SUBJECT, document, lambda: _said(judge(made, check)), expected)


def _of(document: str, made: Visit, check: str, expected: Said) -> Case:
    return Case(SUBJECT, document, lambda: _said(judge(made, check)), expected)


# -- the neutral's bond ----------------------------------------------------------------------------
def _fed(answers: Answers) -> Visit:
    """A panel that something else feeds."""
    panel = Panel(id=PANEL, name="Garage panel", is_service_equipment=False)
    return with_entries(visit(panels=(panel,)), {"panel.neutral_bond": answers})


BOND = "panel.neutral_bond"
JOINED = {"bond": "present", "reading": "value", "ohm": "0.02 Ω"}
APART = {"bond": "absent", "reading": "open", "is_lifted": True, "is_landed": True}
LOAD_SIDE = "NEC 2023 250.24(A)(5), 250.142(B): no bond on the load side"
SEPARATE = "NEC 2023 250.30(A)(1) (from memory)"
BONDS = (
    _sound("NEC 2023 250.24(B), main bonding jumper: there", BOND, JOINED, GOOD),
    _sound(
        "NEC 2023 250.24(B), main bonding jumper: none",
        BOND,
        {"bond": "absent", "reading": "open"},
        DANGER,
    ),
    _sound(
        "NEC 2023 250.24(B), main bonding jumper: none, though the bars touch somewhere",
        BOND,
        {"bond": "absent", "reading": "value", "ohm": "0.02 Ω"},
        DANGER,
    ),
    _of(f"{LOAD_SIDE}: none", _fed({**APART, "fed": "feeder"}), BOND, GOOD),
    _of(
        f"{LOAD_SIDE}: one",
        _fed({**JOINED, "fed": "feeder", "is_lifted": True, "is_landed": True}),
        BOND,
        WARNING,
    ),
    _of(
        f"{LOAD_SIDE}: bars that touch",
        _fed({**APART, "fed": "feeder", "reading": "value", "ohm": "0.30 Ω"}),
        BOND,
        WARNING,
    ),
    _of(
        f"{SEPARATE}, one bond",
        _fed({**JOINED, "fed": "transformer", "at_transformer": "absent"}),
        BOND,
        GOOD,
    ),
    _of(
        f"{SEPARATE}, two bonds",
        _fed({**JOINED, "fed": "transformer", "at_transformer": "present"}),
        BOND,
        WARNING,
    ),
    _of(
        f"{SEPARATE}, no bond",
        _fed({**APART, "fed": "transformer", "at_transformer": "absent"}),
        BOND,
        DANGER,
    ),
)

# -- volts without load ----------------------------------------------------------------------------
NO_LOAD = "outlet.no_load_voltage"
SWAPPED = "common practice: a lost or swapped conductor puts a hand at line voltage"


def _legs(volts: str) -> Answers:
    return dict.fromkeys(("l1_ground", "l2_ground", "l1_neutral", "l2_neutral"), volts)


VOLTS = (
    _sound(f"{SWAPPED}: neutral to ground", NO_LOAD, {"neutral_ground": "119.6 V"}, DANGER),
    _sound(f"{SWAPPED}: line to ground", NO_LOAD, {"l1_ground": "0.4 V"}, DANGER),
    # 240 V less 3 V to ground is no lost conductor; more than 2 V without load is a poor neutral
    _sound("common practice: a poor neutral", NO_LOAD, {"neutral_ground": "3.0 V"}, CAUTION),
    # below 228 V, and below 212 V, at 120/240 V
    _sound(
        "ANSI C84.1, service range A", NO_LOAD, {"line_line": "223.0 V", **_legs("111.5 V")}, NOTICE
    ),
    _sound(
        "ANSI C84.1, utilization range B (from memory)",
        NO_LOAD,
        {"line_line": "205.0 V", **_legs("102.5 V")},
        WARNING,
    ),
)

# -- volts under load ------------------------------------------------------------------------------
LOADED = "outlet.loaded_voltage"
AT_32_A: Mapping[str, Answers] = {
    "breaker.rating": {"rated_a": "40 A", "poles": "2"},
    "charger.configuration": {"configured_a": "32 A"},
}
# 8 AWG, 0.778 Ω/1000 ft at 75 °C; 30.5 m out and back is 133 mΩ at 30 °C
RUN_8_AWG: Mapping[str, Answers] = {
    "run.conductor": {"size": "8 AWG", "material": "copper"},
    "run.length": {"basis": "measured", "length": "30.5 m"},
}


def _load_test(outlet: tuple[str, str], panel: tuple[str, str], **more: str) -> Answers:
    return {
        "outlet_no_load": outlet[0],
        "outlet_loaded": outlet[1],
        "current": "31.6 A",
        "panel_no_load": panel[0],
        "panel_loaded": panel[1],
        **more,
    }


SEATED = {"is_held": True, "has_clicked": True, "is_rocking": False, "gap": "0.5 mm"}


def _through_adapter(load: str, gap: str) -> Visit:
    mixed = point(connector=Coupler.J3400, inlet=Coupler.TYPE_1)
    entries = {
        **AT_32_A,
        **RUN_8_AWG,
        "connector.seating": SEATED,
        "adapter.seating": {**SEATED, "gap": gap},
        LOADED: _load_test(("243.1 V", "236.4 V"), ("243.2 V", "241.0 V"), load=load),
    }
    return with_entries(visit(points=(mixed,)), entries)


UNSEATED = "common practice: no current through a coupler that does not seat"
UNDER_LOAD = (
    # (9.5 - 1.0) V / 31.6 A = 269 mΩ, of which metal has 133: 135 W at 32 A, by Ohm's law; NBSIR
    # 76-1011: connections glow from 35 W on
    _of(
        "NBSIR 76-1011, glowing connections: 35 W (abstract)",
        with_entries(
            visit(),
            {
                **AT_32_A,
                **RUN_8_AWG,
                LOADED: _load_test(("243.0 V", "233.5 V"), ("243.0 V", "242.0 V")),
            },
        ),
        LOADED,
        DANGER,
    ),
    # (9.0 - 1.0) V × 32 / 31.6 of 240 V is 3.4 %; a note, and no rule
    _of(
        "NEC 2023 210.19, informational note: 3 % in the branch",
        with_entries(
            visit(),
            {**AT_32_A, LOADED: _load_test(("243.0 V", "234.0 V"), ("243.0 V", "242.0 V"))},
        ),
        LOADED,
        NOTICE,
    ),
    _of(
        "ANSI C84.1, utilization range B: 212 V (from memory)",
        with_entries(
            visit(),
            {**AT_32_A, LOADED: _load_test(("215.0 V", "208.0 V"), ("215.0 V", "209.0 V"))},
        ),
        LOADED,
        CAUTION,
    ),
    _of(f"{UNSEATED}: a vehicle", _through_adapter("vehicle", "4.0 mm"), LOADED, DANGER),
    _of(f"{UNSEATED}: a test load", _through_adapter("test load", "4.0 mm"), LOADED, GOOD),
    _of(f"{UNSEATED}: it seats", _through_adapter("vehicle", "0.5 mm"), LOADED, GOOD),
)

# -- warmth ----------------------------------------------------------------------------------------
WARM = "outlet.temperature"
LEVELS = "NETA ATS 2003 table 100.18"
AIR_C = 22.0


@cache
def _curve(end_k: float, until_min: int = 40) -> tuple[str, ...]:
    """A first-order step response (textbook), read every two minutes."""
    return tuple(f"{AIR_C + end_k * (1 - exp(-t / 9)):.1f} °C" for t in range(0, until_min + 1, 2))


def _warm(document: str, expected: Said, end_k: float, **more: Any) -> Case:
    said = {
        "method": "contact",
        "ambient": [f"{AIR_C} °C"],
        "current": ["40.0 A"],
        "surface": list(_curve(end_k)),
        "sign": "none",
        **more,
    }
    entries = {check: answers for check, answers in RECEPTACLE.items() if check != WARM}
    return _of(document, with_entries(visit(), {**entries, WARM: said}), WARM, expected)


BREAKER = "breaker.temperature"


def _face(document: str, expected: Said, **degrees: str) -> Case:
    made = with_entries(
        visit(kind=VisitKind.SERVICE_CALL),
        {
            "breaker.rating": {"rated_a": "50 A", "poles": "2"},
            "charger.configuration": {"configured_a": "40 A"},
            BREAKER: {"face": "34.0 °C", "neighbor": "33.0 °C", "air": "25.0 °C", **degrees},
        },
    )
    return _of(document, made, BREAKER, expected)


WARMTH = (
    _warm(f"{LEVELS}: 9 K over the air", GOOD, 9.0),
    # over 20 K: monitor until corrected; over 30 K UL 498 (from memory)
    _warm(f"{LEVELS}: more than 20 K, to 40 K", CAUTION, 25.0),
    _warm("UL 498, temperature rise: 30 K (from memory)", WARNING, 34.0),
    # one that would end at 15 K over the air beside one at 6 K
    _warm(f"{LEVELS}: 4 to 15 K over a like part", CAUTION, 15.0, like_part=list(_curve(6.0))),
    # the part itself stays under 20 K
    _warm(f"{LEVELS}: more than 15 K over a like part", WARNING, 18.5, like_part=list(_curve(0.5))),
    _warm("NEC 2023 110.14(C), 60 °C terminations (from memory)", DANGER, 42.0),
    _face(f"{LEVELS}: 19 K over a like breaker", WARNING, face="52.0 °C"),
    _face(f"{LEVELS}: a neighbor 19 K over this one", WARNING, neighbor="53.0 °C"),
    _face("NEC 2023 110.14(C), 60 °C (from memory), at a face", DANGER, face="66.0 °C"),
    # 125 - 85 × (40/50)² = 70.6 °C, by hand
    _face(
        "one maker's table of rating against air temperature, 80 % at 71 °C", CAUTION, air="80.0 °C"
    ),
)

# -- dead and proved -------------------------------------------------------------------------------
ABSENCE = "breaker.absence_of_voltage"
THREE_STEPS = "common practice, as NFPA 70E 120.5 has it: prove, test every pair, prove"


def _with_meter(kind: InstrumentKind, category: str) -> Visit:
    """The sound visit, its meter another."""
    made = built("receptacle", {})
    meters = tuple(
        each.model_copy(update={"category": type(each.category)(category)})
        if each.kind is kind
        else each
        for each in made.instruments
    )
    return made.model_copy(update={"instruments": meters})


PROVING = (
    _sound(f"{THREE_STEPS}: all three", ABSENCE, {}, GOOD),
    _sound(f"{THREE_STEPS}: the second proof dead", ABSENCE, {"known_after": "0.0 V"}, DANGER),
    _sound(f"{THREE_STEPS}: the first proof dead", ABSENCE, {"known_before": "0.0 V"}, DANGER),
    _sound(f"{THREE_STEPS}: not every pair", ABSENCE, {"is_every_pair": False}, DANGER),
    _sound(f"{THREE_STEPS}: live", ABSENCE, {"highest": "29.0 V"}, DANGER),
    _of(
        "IEC 61010-2-033: CAT III at a panel, not CAT II",
        _with_meter(InstrumentKind.MULTIMETER, "CAT II"),
        ABSENCE,
        DANGER,
    ),
)

# -- signals and ground fault ----------------------------------------------------------------------
PILOT = "charger.pilot_voltage"
SIGNALS = (
    # 270 Ω too many in state C are 6.770 V: by ngspice, and beyond 6.49 V
    _sound("SAE J1772, window of state C", PILOT, {"state_c": "6.77 V"}, CAUTION),
    # 279 Ω by the divider with a diode of 0.7 V
    Case(
        SUBJECT,
        "ngspice, pilot_peaks.cir: 270 Ω in the contact",
        lambda: any(
            "resistance in the pilot or ground contact, about 279 Ω" in line
            for line in judge(built("receptacle", {PILOT: {"state_c": "6.77 V"}}), PILOT).working
        ),
        True,
    ),
    # 80 % duty is 48 A; 40 A is the most on 50 A
    _sound(
        "SAE J1772 OCT2017, duty 80 %; NEC 2023 625.42, 50 A",
        "charger.offered_current",
        {"duty": "80.0 %"},
        WARNING,
    ),
    _sound(
        "SAE J1772 OCT2017, duty 50 %, set to 40 A",
        "charger.offered_current",
        {"duty": "50.0 %"},
        NOTICE,
    ),
    _sound(
        "support article, Basics of the J1772 standard: 150 Ω, and 480 Ω with the button pressed",
        "connector.seating",
        {"latched_ohm": "150 Ω", "pressed_ohm": "480 Ω"},
        GOOD,
    ),
    _sound(
        "support article, Basics of the J1772 standard: 480 Ω is the pressed button",
        "connector.seating",
        {"latched_ohm": "480 Ω"},
        CAUTION,
    ),
    # (20/8)^1.43 = 3.707 s
    _sound("UL 943, 8 mA", "outlet.ground_fault_trip", {"trip_time": "4200 ms"}, WARNING),
)


# -- the size that a run takes ---------------------------------------------------------------------
def _size_for(length: str, size: str) -> Case:
    """The size that the finding on a run of 6 AWG, 48 A on 60 A, asks for."""
    made = built("hard-wired", {"run.length": {"basis": "measured", "length": length}})

    def planned() -> str:
        judged = judge(made, "run.length")
        return " ".join(f"{judged.remedy} {judged.settles}".partition("Plan ")[2].split()[:2])

    return Case(
        SUBJECT,
        f"NEC 2023 chapter 9 table 8, by hand: {length} within 7.2 V",
        planned,
        size,
    )


LENGTHS = (
    # 2 × 48 A × 180 ft: 8.48 V by 6 AWG, 5.32 V by 4 AWG (0.491 and 0.308 Ω/1000 ft)
    _size_for("180.0 ft", "4 AWG"),
    # 7.07 V by 6 AWG, were the tape exact: it may be 2 % longer, 7.21 V
    _size_for("150.0 ft", "4 AWG"),
    # 9.17 V by 4 AWG, 7.29 V by 3 AWG (0.245), 5.77 V by 2 AWG (0.194)
    _size_for("310.0 ft", "2 AWG"),
)

CASES = (*BONDS, *VOLTS, *UNDER_LOAD, *WARMTH, *PROVING, *SIGNALS, *LENGTHS)
