"""Typed or pasted words on their way into the record: the one door that all of them go through."""

from checks.record import TEXT_MOST, as_text
from fieldapp.walk.refused import WalkError


def worded(typed: str, where: str) -> str:
    """Return words as the record holds them.

    Parameters
    ----------
    typed : str
        As they stand in the field.
    where : str
        What they are the words of.

    Raises
    ------
    WalkError
        They are too long; nothing is cut off.
    """
    text = as_text(typed).strip()
    more = len(text) - TEXT_MOST
    if more > 0:
        raise WalkError(
            f"{len(text)} characters are too many, {TEXT_MOST} is the most",
            where=where,
            remedy=f"Shorten it by {more}; what you wrote still stands in the field",
        )
    return text


def added_to(note: str, more: str, where: str) -> str:
    """Return a note with more behind it.

    Parameters
    ----------
    note, more : str
        Words of the record; either may be empty.
    where : str
        Whose note it is.

    Raises
    ------
    WalkError
        There is no room for it; nothing is cut off.
    """
    text = f"{note} {more}".strip()
    if len(text) > TEXT_MOST:
        raise WalkError(
            "there is no room for what is added to it",
            where=where,
            remedy="Shorten the note first" if note else "Shorten what was answered first",
        )
    return text
