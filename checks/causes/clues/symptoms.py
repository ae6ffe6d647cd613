"""Clues from what the owner tells and from when it happens."""

from typing import Final

from checks.causes.clue import Clue, View, any_said, outcomes, picked, sign

BEHAVIOR: Final = "charger.behavior"
TRIPS: Final = "breaker.trip_history"
OPENED: Final = "outlet.ground_fault_history"
TRIAL: Final = "vehicle.trial"
SURROUNDINGS: Final = "surroundings.circumstances"


def is_left_dark(view: View) -> bool:
    """Whether the charger is dark because a ground-fault device ahead of it opened.

    It is dark then whatever opened the device: that it is tells nothing of the cause.
    """
    s = view.situation
    has_opened = s.choice(f"{OPENED}.device") in ("upstream", "both")
    has_opened |= s.choice(f"{TRIPS}.kind") == "ground_fault"
    return has_opened and s.choice(f"{BEHAVIOR}.start") == "dead"


def is_ground_fault(view: View) -> bool:
    """Whether a ground fault is told of: by the device that opened, or by the charger."""
    s = view.situation
    opened = s.choice(f"{OPENED}.device") in ("upstream", "charger", "both")
    shown = (s.choice(f"{TRIPS}.kind"), s.choice(f"{BEHAVIOR}.fault"))
    return opened or "ground_fault" in shown


def _starts(view: View) -> str | None:
    """Tell what it does on plugging in; nothing where it is dark for want of a supply."""
    return None if is_left_dark(view) else view.situation.choice(f"{BEHAVIOR}.start")


def _circumstance(name: str, share: float, yes: str, no: str, group: str = "") -> Clue:
    return sign(name.removeprefix("is_"), f"{SURROUNDINGS}.{name}", share, yes, no, group)


CLUES: Final[tuple[Clue, ...]] = (
    Clue(
        "trips",
        TRIPS,
        outcomes(
            ("never", 0.68, "The breaker has not tripped"),
            ("at_once", 0.06, "The breaker trips at once"),
            ("minutes", 0.09, "The breaker trips within half an hour"),
            ("hours", 0.10, "The breaker trips after a long charge"),
            ("random", 0.07, "The breaker trips at no fixed time"),
        ),
        "never",
        picked(f"{TRIPS}.when"),
    ),
    Clue(
        "trip_kind",
        TRIPS,
        outcomes(
            ("overcurrent", 0.6, "It was an overcurrent trip"),
            ("ground_fault", 0.4, "It was a ground-fault trip"),
        ),
        "",
        picked(f"{TRIPS}.kind", "overcurrent", "ground_fault"),
        "ground fault opens",
    ),
    Clue(
        "ground_fault_opens",
        OPENED,
        outcomes(
            ("none", 0.74, "No ground-fault device has opened"),
            ("upstream", 0.15, "The ground-fault device in the supply opens"),
            ("charger", 0.08, "The charger's own ground-fault protection opens"),
            ("both", 0.03, "Both ground-fault devices open"),
        ),
        "none",
        picked(f"{OPENED}.device"),
        "ground fault opens",
    ),
    Clue(
        "ground_fault_when",
        OPENED,
        outcomes(
            ("idle", 0.25, "It opens with no vehicle there"),
            ("start", 0.3, "It opens as a charge starts"),
            ("later", 0.25, "It opens during a charge"),
            ("random", 0.2, "It opens at no fixed time"),
        ),
        "",
        picked(f"{OPENED}.when"),
    ),
    Clue(
        "starts",
        BEHAVIOR,
        outcomes(
            ("charges", 0.64, "The charger charges"),
            ("dead", 0.09, "No light on the charger"),
            ("ready", 0.16, "The charger is ready, but no charge starts"),
            ("fault", 0.11, "The charger shows a fault"),
        ),
        "charges",
        _starts,
    ),
    Clue(
        "fault_shown",
        BEHAVIOR,
        outcomes(
            ("ground_fault", 0.2, "The charger shows a ground fault"),
            ("no_ground", 0.15, "The charger shows that ground is missing"),
            ("hot", 0.15, "The charger shows that it is too hot"),
            ("contactor", 0.1, "The charger shows a contactor fault"),
            ("pilot", 0.2, "The charger shows a fault of pilot or vehicle"),
            ("other", 0.2, "The charger shows another fault"),
        ),
        "",
        picked(f"{BEHAVIOR}.fault"),
    ),
    Clue(
        "stops",
        BEHAVIOR,
        outcomes(
            ("no", 0.74, "It does not stop by itself"),
            ("minutes", 0.1, "It stops within the hour"),
            ("hours", 0.06, "It stops after hours"),
            ("random", 0.07, "It stops at no fixed time"),
            ("touched", 0.03, "It stops when the handle is moved"),
        ),
        "no",
        picked(f"{BEHAVIOR}.stops"),
    ),
    sign("slow", f"{BEHAVIOR}.is_slow", 0.2, "It charges slowly", "It charges at its rate"),
    sign("offline", f"{BEHAVIOR}.is_offline", 0.05, "It is off line", "It is on line"),
    sign(
        "stuck",
        "connector.release.is_stuck",
        0.04,
        "The connector does not come out",
        "The connector comes out after a charge",
    ),
    Clue(
        "timer",
        TRIAL,
        outcomes(
            ("off", 0.75, "No timer is set in the vehicle"),
            ("on", 0.25, "A timer is set in the vehicle"),
        ),
        "off",
        picked(f"{TRIAL}.timer", "off", "on"),
        "vehicle timer",
    ),
    Clue(
        "timer_off",
        TRIAL,
        outcomes(
            ("no_start", 0.9, "With the timer off it does not start either"),
            ("starts", 0.1, "With the timer off it starts"),
        ),
        "no_start",
        picked(f"{TRIAL}.at_once", "starts", "no_start"),
        "vehicle timer",
    ),
    Clue(
        "other_vehicles",
        TRIAL,
        outcomes(
            ("same", 0.7, "Other vehicles show the same fault here"),
            ("fine", 0.3, "Other vehicles charge well here"),
        ),
        "",
        picked(f"{TRIAL}.others", "fine", "same"),
        "whose fault",
    ),
    Clue(
        "elsewhere",
        TRIAL,
        outcomes(
            ("fine", 0.7, "This vehicle charges well elsewhere"),
            ("same", 0.3, "This vehicle shows the same fault elsewhere"),
        ),
        "",
        picked(f"{TRIAL}.elsewhere", "fine", "same"),
        "whose fault",
    ),
    _circumstance(
        "is_after_rain", 0.12, "It happens after rain or washing", "No matter the rain", "moisture"
    ),
    Clue(
        "water_seen",
        "outlet.damage",
        outcomes(
            ("no", 0.95, "No water or corrosion in outlet and charger"),
            ("yes", 0.05, "Water or corrosion in outlet or charger"),
        ),
        "no",
        any_said("outlet.damage.is_wet", "charger.damage.has_water"),
        "moisture",
        rests_on=("charger.damage",),
    ),
    _circumstance(
        "is_on_hot_days", 0.15, "It happens on hot days or in the sun", "No matter the heat"
    ),
    _circumstance(
        "is_with_other_loads",
        0.12,
        "It happens while another load runs",
        "No matter what else runs",
        "other loads",
    ),
    _circumstance(
        "is_with_other_vehicles",
        0.08,
        "It happens while other vehicles charge",
        "No matter the other vehicles",
    ),
    _circumstance(
        "is_since_storm", 0.06, "It is so since a storm or outage", "No storm or outage before it"
    ),
    _circumstance("is_since_new", 0.15, "It is so since it was installed", "It worked before"),
    _circumstance(
        "is_with_lights", 0.03, "Lights brighten or dim with it", "The lights stay steady"
    ),
)
