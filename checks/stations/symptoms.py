"""What a service call is about: the symptoms, each recorded at the station where it shows.

Told or seen, never measured; the causes read them beside every other entry of the visit.
"""

from typing import Final

from checks.check import (
    AnyInput,
    Check,
    Choice,
    Judge,
    Option,
    Situation,
    When,
    YesNo,
    not_measured,
    seen,
)
from checks.path import Station
from checks.record import VisitKind
from checks.source import trade
from checks.stations.observing import SEEN
from checks.verdict import Judgement, Severity

TOLD: Final = trade("what the owner tells and the technician sees is where a search begins")
WHY: Final = "Until its cause is found it comes back, or gets worse"
FIND: Final = "Find the cause before the circuit is used again; see the likely causes"
UNASKED: Final = "told or seen, with no number to hold it against"

TRIPPED: Final = When("when", ("at_once", "minutes", "hours", "random"))
BURNT: Final = When("place", ("terminal", "contact"))
CHARGES: Final = When("start", ("charges",))
UNKNOWN: Final = ("unknown", "untried")
NEVER: Final = ("never", "none", "no", "charges", "off", *UNKNOWN)


def _told(check: str, questions: tuple[AnyInput, ...], good: str, bad: str) -> Judge:
    """Return the judge of a symptom: what was told, in one sentence."""

    def judge(s: Situation) -> Judgement:
        asked = (q for q in questions if q.when is None and not q.optional)
        open_ones = [q.label for q in asked if not _is_answered(s, check, q)]
        if open_ones:
            return not_measured(f"Still open: {', '.join(open_ones)}", sources=(TOLD,))
        found = [words for q in questions if (words := _words(s, check, q))]
        unknown = [
            q.label
            for q in questions
            if isinstance(q, Choice) and s.choice(f"{check}.{q.name}") in UNKNOWN
        ]
        if unknown and not found:
            return not_measured(f"Not known: {', '.join(unknown)}", sources=(TOLD,))
        return seen(
            not found,
            explanation=f"{bad}: {'; '.join(found)}" if found else good,
            source=TOLD,
            why=WHY,
            remedy=FIND,
            severity=Severity.CAUTION,
        )

    return judge


def _is_answered(s: Situation, check: str, question: AnyInput) -> bool:
    entry = s.entry(check)
    return entry is not None and entry.answer(question.name) is not None


def _words(s: Situation, check: str, question: AnyInput) -> str:
    """Return what a question adds to the symptom; empty where it says that nothing is wrong."""
    reference = f"{check}.{question.name}"
    if isinstance(question, YesNo):
        is_said = s.yes(reference) is True
        return question.label[0].lower() + question.label[1:] if is_said else ""
    if isinstance(question, Choice):
        picked = s.choice(reference)
        words = {o.value: o.words for o in question.options}.get(picked or "", "")
        return "" if picked in NEVER else words[:1].lower() + words[1:]
    return ""


def _symptom(
    check: str,
    title: str,
    how: str,
    questions: tuple[AnyInput, ...],
    good: str,
    bad: str,
) -> Check:
    return Check(
        id=check,
        title=title,
        how=how,
        inputs=questions,
        judge=_told(check, questions, good, bad),
        kinds=(VisitKind.SERVICE_CALL,),
        no_limit_because=UNASKED,
    )


def _options(*pairs: tuple[str, str]) -> tuple[Option, ...]:
    return tuple(Option(value, label) for value, label in pairs)


CHECKS: Final[tuple[Check, ...]] = (
    _symptom(
        "breaker.trip_history",
        "Trips of the breaker",
        "Ask when it trips, and look at handle and indicator before anybody touches them: they "
        "say which kind of trip it was.",
        (
            Choice(
                "when",
                "It trips",
                options=_options(
                    ("never", "Never"),
                    ("at_once", "At once"),
                    ("minutes", "Within half an hour"),
                    ("hours", "After a longer charge"),
                    ("random", "At no fixed time"),
                ),
            ),
            Choice(
                "kind",
                "Kind of trip",
                options=_options(
                    ("overcurrent", "Overcurrent, by its handle"),
                    ("ground_fault", "Ground fault, by its light"),
                    ("unknown", "Not known"),
                ),
                when=TRIPPED,
            ),
        ),
        "The breaker has not tripped",
        "The breaker trips",
    ),
    _symptom(
        "outlet.ground_fault_history",
        "Trips by ground fault",
        "Ask which device opens, and when: the one upstream of the charger, the charger's own, "
        "or both.",
        (
            Choice(
                "device",
                "What opens",
                options=_options(
                    ("none", "Nothing"),
                    ("upstream", "Device in the supply"),
                    ("charger", "The charger's own"),
                    ("both", "Both"),
                ),
            ),
            Choice(
                "when",
                "It opens",
                options=_options(
                    ("idle", "With no vehicle there"),
                    ("start", "As a charge starts"),
                    ("later", "During a charge"),
                    ("random", "At no fixed time"),
                ),
                when=When("device", ("upstream", "charger", "both")),
            ),
        ),
        "No ground-fault device has opened",
        "Ground-fault protection opens",
    ),
    _symptom(
        "outlet.burn_pattern",
        "Where it is burnt",
        "With the circuit off and nothing plugged in, look where the deepest mark is. Photograph "
        "it, keep the parts, touch nothing that is still warm.",
        (
            Choice(
                "place",
                "Deepest mark",
                options=_options(
                    ("none", "Nothing is burnt"),
                    ("terminal", "At a terminal screw"),
                    ("contact", "At a blade's contact"),
                    ("cord", "In plug or cord"),
                    ("even", "Even, all blades alike"),
                ),
            ),
            YesNo("is_one_sided", "One side only", when=BURNT),
            YesNo("has_arc_beads", "Beads of metal at the tips", good=False, says=SEEN, when=BURNT),
        ),
        "Nothing at the outlet is burnt",
        "Burnt at the outlet",
    ),
    _symptom(
        "charger.behavior",
        "What the charger does",
        "Ask what the charger does from plugging in to the end, and read its lights by the "
        "maker's instructions.",
        (
            Choice(
                "start",
                "On plugging in",
                options=_options(
                    ("charges", "It charges"),
                    ("dead", "No light at all"),
                    ("ready", "Ready, no charge"),
                    ("fault", "A fault is shown"),
                ),
            ),
            Choice(
                "fault",
                "The fault shown",
                options=_options(
                    ("ground_fault", "Ground fault"),
                    ("no_ground", "Ground missing"),
                    ("hot", "Too hot"),
                    ("contactor", "Contactor"),
                    ("pilot", "Pilot or vehicle"),
                    ("other", "Another, or not known"),
                ),
                when=When("start", ("fault",)),
            ),
            Choice(
                "stops",
                "It stops by itself",
                options=_options(
                    ("no", "No"),
                    ("minutes", "Within the hour"),
                    ("hours", "After hours"),
                    ("random", "At no fixed time"),
                    ("touched", "When the handle is moved"),
                ),
                when=CHARGES,
            ),
            YesNo(
                "is_slow", "Charges slowly", good=False, says=("Slow", "At its rate"), when=CHARGES
            ),
            YesNo(
                "is_offline",
                "Off line",
                good=False,
                says=("Off line", "On line"),
                help="A networked charger without network",
            ),
        ),
        "The charger starts, charges at its rate and goes on",
        "The charger does not do its work",
    ),
    _symptom(
        "connector.release",
        "Release of the connector",
        "Ask whether the connector comes out once the charge has ended. Never pry a stuck one.",
        (YesNo("is_stuck", "It does not come out", good=False, says=("Stuck", "Comes out")),),
        "The connector comes out when the charge has ended",
        "The connector stays in the inlet",
    ),
    _symptom(
        "vehicle.trial",
        "Vehicle: timer and trial",
        "Look into the vehicle's charging menu for a timer or a limit. Ask how it charges "
        "elsewhere, and other vehicles here.",
        (
            Choice(
                "timer",
                "Timer in the vehicle",
                options=_options(("off", "Off"), ("on", "A timer is on"), ("unknown", "Not known")),
            ),
            Choice(
                "at_once",
                "With its timer off",
                options=_options(
                    ("starts", "Starts without it"),
                    ("no_start", "No start without it"),
                    ("untried", "Not tried"),
                ),
                when=When("timer", ("on",)),
            ),
            Choice(
                "others",
                "Other vehicles here",
                options=_options(
                    ("untried", "Not tried"),
                    ("fine", "Others charge well"),
                    ("same", "Others fail too"),
                ),
            ),
            Choice(
                "elsewhere",
                "This one elsewhere",
                options=_options(
                    ("untried", "Not tried"),
                    ("fine", "Charges well elsewhere"),
                    ("same", "Fails elsewhere too"),
                ),
            ),
        ),
        "No timer in the vehicle and no trial speaks of a fault",
        "From the vehicle",
    ),
    _symptom(
        "surroundings.circumstances",
        "When it happens",
        "Ask for each; what came just before the fault first showed matters most.",
        (
            YesNo("is_after_rain", "After rain or washing", good=False, says=("Then", "Not then")),
            YesNo(
                "is_on_hot_days", "On hot days or in the sun", good=False, says=("Then", "Not then")
            ),
            YesNo(
                "is_with_other_loads",
                "While another load runs",
                good=False,
                says=("Then", "Not then"),
            ),
            YesNo(
                "is_with_other_vehicles",
                "While other vehicles charge",
                good=False,
                says=("Then", "Not then"),
            ),
            YesNo(
                "is_since_storm",
                "Since a storm or outage",
                good=False,
                says=("Since then", "Not since"),
            ),
            YesNo(
                "is_since_new",
                "Since it was installed",
                good=False,
                says=("Since then", "Not from then"),
            ),
            YesNo(
                "is_with_lights",
                "Lights brighten or dim",
                good=False,
                says=("They do", "Steady"),
                optional=True,
            ),
        ),
        "It follows no weather, no other load and no work on the circuit",
        "It happens",
    ),
)


IDS: Final = frozenset(check.id for check in CHECKS)


def at(station: Station) -> tuple[Check, ...]:
    """Return the symptoms that show at a station."""
    return tuple(check for check in CHECKS if check.station is station)
