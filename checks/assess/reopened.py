"""Entries that leave a question open which is asked now: the check is owed again."""

from collections.abc import Iterable, Mapping
from typing import Final

from checks.check import AnyInput, Gone, Key, Situation, everywhere
from checks.codes.profile import CodeProfile
from checks.path import subjects
from checks.record import Entry, Visit
from checks.stations.all import CHECKS


def _may_come(asked: Iterable[AnyInput]) -> tuple[AnyInput, ...]:
    """Return the questions that are asked in some places only, so that each may have come since."""
    return tuple(i for i in asked if i.where is not everywhere and not i.optional)


_MAY_ASK_MORE: Final = tuple(check for check in CHECKS if _may_come(check.inputs))


def of_open_questions(
    visit: Visit, code: CodeProfile, latest: dict[Key, Entry], gone: Mapping[Key, Gone]
) -> dict[Key, Gone]:
    """Return the entries that do not answer a question which must be answered here now.

    It is asked in some places only, and came since the entry was made: a fact was corrected, a
    panel or a point added, or what another check told taken back. What the entry says still holds.

    Parameters
    ----------
    visit : Visit
        The record.
    code : CodeProfile
        The code it is judged by.
    latest : dict
        The entries that count, by check and subject.
    gone : Mapping
        Those of them that say nothing of what is there now.
    """
    found: dict[Key, Gone] = {}
    for check in _MAY_ASK_MORE:
        for subject in subjects(check.station, visit):
            made = latest.get((check.id, subject))
            if made is None or made.not_done is not None or (check.id, subject) in gone:
                continue
            if not _may_come(check.missing(made)):  # not even where all of them are asked
                continue
            here = Situation(visit, code, subject, latest=latest, gone=gone)
            labels = ", ".join(i.label.lower() for i in _may_come(check.at(here).missing(made)))
            if labels and not check.not_here_because(here):
                words = f"A question came up since it was made: {labels}. Make it again"
                found[check.id, subject] = Gone("", made.number + 1, made, words)
    return found
