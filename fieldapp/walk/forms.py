"""The forms before the walk: what is asked to begin a visit, and to add a charging point."""

from typing import Final

from checks import codes
from checks.check import Check, Choice, Option, Situation, When, Words, YesNo
from checks.record import (
    Attachment,
    ChargerForm,
    Chosen,
    Coupler,
    Decision,
    Entry,
    Occupancy,
    Role,
    SupplySystem,
    Unsigned,
    VisitKind,
    WitnessRole,
    Worded,
    YesNoAnswer,
)
from checks.verdict import Judgement, Verdict


def _form(name: str, title: str, how: str, *inputs: Choice | Words | YesNo) -> Check:
    """Declare a form with the means of a check; it is never judged."""
    return Check(id=f"handover.{name}", title=title, how=how, inputs=inputs, judge=_not_judged)


def _not_judged(_: Situation) -> Judgement:
    return Judgement(verdict=Verdict.NOT_APPLICABLE, explanation="a form")


# Level 1 is 120 V by a receptacle; a cord set always goes by a receptacle.
CONNECTIONS: Final = {
    "level 1 cord set": (1, Attachment.RECEPTACLE, ChargerForm.CORD_SET),
    "level 1 fixed unit": (1, Attachment.RECEPTACLE, ChargerForm.FIXED),
    "level 2 cord set": (2, Attachment.RECEPTACLE, ChargerForm.CORD_SET),
    "level 2 by receptacle": (2, Attachment.RECEPTACLE, ChargerForm.FIXED),
    "level 2 hard-wired": (2, Attachment.HARD_WIRED, ChargerForm.FIXED),
}
NO_VEHICLE: Final = "no vehicle here"

_KIND: Final = Choice(
    "kind",
    "Why are you here?",
    options=(
        Option(VisitKind.COMMISSIONING, "Commissioning a new charger"),
        Option(VisitKind.SITE_RECORD, "Site record: documenting what is there"),
        Option(VisitKind.SERVICE_CALL, "Service call: something tripped, burnt or stopped"),
    ),
)

_ROLE: Final = Choice(
    "role",
    "What may you do here?",
    options=(
        Option(Role.INSTALLS, "Install: I open, tighten and energise"),
        Option(Role.SERVES, "Serve: I open and mend"),
        Option(Role.INSPECTS, "Inspect: I look and measure, I open nothing"),
    ),
)

BEGIN: Final = _form(
    "begin",
    "New visit",
    "Say why you are here and where this is.",
    _KIND,
    _ROLE,
    Words("site", "Name of the site"),
    Words("address", "Address", optional=True),
    Choice(
        "occupancy",
        "What kind of place is it?",
        options=(
            Option(Occupancy.DWELLING, "Dwelling"),
            Option(Occupancy.OTHER, "Other than a dwelling"),
        ),
    ),
    Choice(
        "code",
        "Which code is adopted here?",
        help="Local amendments and the authority having jurisdiction decide over either.",
        options=tuple(
            Option(p.name, f"{p.title}, edition {p.edition}", p.covers)
            for p in codes.PROFILES.values()
        ),
    ),
    Words("owner", "Owner or contact", optional=True),
    Words("authority", "Authority having jurisdiction", optional=True),
    Words("permit", "Permit number", optional=True),
    Choice(
        "system",
        "Supply at the service",
        help="Read it off the meter, the main or the plan; it is measured later. Where a "
        "transformer of the site's own brings it down from 480 V or 600 V, take what it gives, and "
        "the main behind it as the service.",
        options=tuple(Option(s, s.value) for s in SupplySystem),
    ),
    Words("panel", "Name of the panel that feeds the charger"),
    YesNo("is_service", "Is this panel the service equipment?"),
)

POINT: Final = _form(
    "point",
    "Charging point",
    "Say what is installed; the path of the current follows from it.",
    Words("name", "Name of the charging point", help="As on site, such as Bay 2."),
    Choice(
        "connection",
        "How is it connected?",
        options=(
            Option("level 1 cord set", "Level 1, cord set on a 120 V receptacle"),
            Option("level 1 fixed unit", "Level 1, fixed unit on a 120 V receptacle"),
            Option("level 2 cord set", "Level 2, cord set on a receptacle"),
            Option("level 2 by receptacle", "Level 2, fixed unit on a receptacle"),
            Option("level 2 hard-wired", "Level 2, hard-wired"),
        ),
    ),
    Choice(
        "connector",
        "Connector on the charger's cable",
        options=tuple(Option(c, c.value) for c in Coupler),
    ),
    Choice(
        "inlet",
        "Inlet of the vehicle that is here",
        help="Where it differs from the connector, an adapter stands between them.",
        options=(*(Option(c, c.value) for c in Coupler), Option(NO_VEHICLE, "No vehicle here")),
    ),
)

PANEL: Final = _form(
    "panel",
    "Panel",
    "Add another panel that feeds a charging point.",
    Words("name", "Name of the panel"),
    YesNo("is_service", "Is this panel the service equipment?"),
)

AGAIN: Final = _form(
    "again",
    "Another visit to this site",
    "Site, panels and charging points are taken over; no answer and no reading is.",
    _KIND,
    _ROLE,
)

AMEND: Final = _form(
    "amend",
    "Amendment",
    "The signed visit stays closed. A new one refers to it; what you make anew there is amended.",
    Words("what", "What is amended, and why?"),
    _ROLE,
)

HALF_CORRECTED: Final = _form(
    "half_corrected",
    "Correct what is installed",
    "Say what is right.",
    Words("words", "What is right"),
)
ASKED_BY: Final = "asked_by"  # under it a form keeps what to go back to


def correction(asked: Choice | Words | YesNo) -> Check:
    """Return the form of one fact that is corrected: its own question, alone."""
    return _form("correct", "Correct what is installed", "Say what is right.", asked)


CIRCUIT: Final = _form(
    "circuit",
    "Circuit state",
    "Say who brought the circuit into its state.",
    Words("brought_by", "Who was it? Name and company"),
)

SIGN_OFF: Final = _form(
    "sign_off",
    "Sign-off",
    "You decide on the return to service; the app only records it.",
    Choice(
        "decision",
        "What do you decide?",
        options=(
            Option(Decision.RETURN, "Return to service"),
            Option(Decision.KEEP_OUT, "Keep out of service"),
            Option(Decision.OWNER, "Leave it to the owner or the authority"),
        ),
    ),
    Choice(
        "witness",
        "Who signs for the owner?",
        help="A witness saw what is signed; it approves no finding.",
        options=(
            Option(WitnessRole.OWNER, "The owner"),
            Option(WitnessRole.REPRESENTATIVE, "Someone for the owner"),
            Option(Unsigned.ABSENT, "Nobody is here for the owner"),
            Option(Unsigned.REFUSED, "Someone is here and will not sign"),
        ),
    ),
    Words(
        "name",
        "Name of the witness",
        help="Of a representative the position too, such as facility manager.",
        when=When("witness", (*WitnessRole,)),
    ),
    Words(
        "refused_by",
        "Who will not sign?",
        optional=True,
        when=When("witness", (Unsigned.REFUSED,)),
    ),
    Words(
        "why",
        "Why is there no signature?",
        help="In a few words; it stands in the report.",
        when=When("witness", (Unsigned.ABSENT, Unsigned.REFUSED)),
    ),
)


def said(entry: Entry, name: str) -> str:
    """Return what a form says to one question, as text; empty where it was passed over."""
    found = entry.answer(name)
    if isinstance(found, Chosen):
        return found.option
    if isinstance(found, Worded):
        return found.text.strip()
    if isinstance(found, YesNoAnswer):
        return "yes" if found.yes else "no"
    return ""
