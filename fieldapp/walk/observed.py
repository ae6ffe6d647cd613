"""What a check's own observations say in words: a note to start from, and what to photograph."""

from typing import Final

from checks.check import (
    LIVE_STATES,
    AnyInput,
    Check,
    Choice,
    Measurement,
    Rating,
    Words,
    YesNo,
)
from checks.path import Station
from checks.record import TEXT_MOST, Chosen, Entry, Reading, Readings, Worded, YesNoAnswer
from checks.verdict import Judgement, Verdict
from fieldapp.walk.refused import WalkError

STAY_BACK: Final = (
    "Stay back for a photo. Nothing you hold comes near an open or live part, and nothing is "
    "opened or reached into for a picture."
)
_PLACES: Final = {
    Station.RUN: "as much of the run as shows",
    Station.SURROUNDINGS: "the whole place",
    Station.HANDOVER: "what is shown or handed over",
}
_NAMED: Final = 3
_TIMES: Final = {"s", "min", "h"}


def answered(asked: AnyInput, entry: Entry) -> str:
    """Say the answer to one question; empty where there is none."""
    found = entry.answer(asked.name)
    if isinstance(found, Chosen):
        options = asked.options if isinstance(asked, Choice) else ()
        return next((o.words for o in options if o.value == found.option), found.option)
    if isinstance(found, YesNoAnswer):
        declared = asked if isinstance(asked, YesNo) else YesNo(asked.name, asked.label)
        return declared.words(yes=found.yes)
    if isinstance(found, Worded):
        return found.text
    if isinstance(found, Reading):
        return f"{found.value} {found.unit}"
    if isinstance(found, Readings):
        return f"{len(found.readings)} readings"
    return ""


def proposed_note(check: Check, entry: Entry, judged: Judgement) -> str:
    """Compose a note from what this check saw; the technician edits it before it is kept.

    Parameters
    ----------
    check : Check
        What was asked.
    entry : Entry
        What was answered.
    judged : Judgement
        What it means as it stands.

    Returns
    -------
    str
        Sentences; empty where nothing was answered.
    """
    told = [(asked.label.rstrip("?"), answered(asked, entry)) for asked in check.asked(entry)]
    seen = [f"{label}: {words}" for label, words in told if words]
    if not seen:
        return ""
    if judged.verdict in (Verdict.OUTSIDE, Verdict.BORDERLINE):
        seen.append(f"{str(judged.verdict).capitalize()}: {judged.explanation}")
        seen += [f"To do: {judged.remedy}"] if judged.remedy else []
    marked = sum(bool(p.marks) for p in entry.photos)
    if entry.photos:
        seen.append(f"Photos: {len(entry.photos)}, {marked} marked")
    return _fitting(" ".join(f"{line.rstrip('.')}." for line in seen), TEXT_MOST)


def composed(written: str, proposal: str) -> str:
    """Put a proposal behind what is written, as much of it as fits; once there, not twice.

    Raises
    ------
    WalkError
        There is no room for any of it.
    """
    written = written.strip()
    more = _fitting(proposal, TEXT_MOST - len(written) - 1)
    if not more:
        raise WalkError(
            "there is no room for what was seen", where="Note", remedy="Shorten the note first"
        )
    return written if more in written else f"{written}\n{more}".strip()


def _fitting(text: str, most: int) -> str:
    """Return a text, or as many whole sentences of its beginning as fit."""
    if len(text) <= most:
        return text
    return text[: text.rfind(". ", 0, max(0, most) + 1) + 1]


def to_photograph(check: Check, entry: Entry) -> tuple[str, ...]:
    """Return what photos of a check should show, the wide view first.

    Parameters
    ----------
    check : Check
        What is asked.
    entry : Entry
        What was answered so far: it decides what else is asked.
    """
    place = _PLACES.get(check.station, f"the whole {check.station.value}")
    lines = [f"From a step away: {place}, so that it is known again."]
    by_kind: dict[str, list[str]] = {}
    for asked in check.asked(entry):
        by_kind.setdefault(_how(asked), []).append(asked.label)
    for how, labels in by_kind.items():
        if how:
            more = ", and the like" if len(labels) > _NAMED else ""
            lines.append(f"{how}: {'; '.join(labels[:_NAMED])}{more}.")
    return tuple(lines)


def is_near_live_parts(check: Check) -> bool:
    """Whether a photo is taken where something is open or live."""
    return check.opens or check.state in LIVE_STATES


def _how(asked: AnyInput) -> str:
    match asked:
        case Rating(units=units) if set(units) & _TIMES:
            return ""  # a stay under load is on no plate
        case Measurement():
            return "The display with the reading held, once the probes are off"
        case Rating() | Words():
            return "The plate or print, near enough to read"
        case _:
            return "Near and sharp, what shows it"
