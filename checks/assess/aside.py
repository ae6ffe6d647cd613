"""What was found grave and stands no more since a fact was corrected: it is told all the same.

A person may correct a fact so that what was seen is asked no more, or is judged by another rule.
What was seen stays seen: the summary, the report and the sign-off say it, with the correction.
"""

from collections.abc import Callable
from typing import Final

from checks.assess.model import Assessment, Finding, SetAside
from checks.record import Correction, Visit
from checks.verdict import Severity, Verdict

_JUDGED: Final = (Verdict.WITHIN, Verdict.OUTSIDE, Verdict.BORDERLINE)


def lost(before: Assessment, now: Assessment) -> tuple[Finding, ...]:
    """Return the dangers and warnings of one assessment that are neither in another.

    Parameters
    ----------
    before, now : Assessment
        Of one record, with a fact as it stood and as it was corrected.
    """
    stands = {_key(f) for f in now.findings if f.severity.is_grave}
    return tuple(f for f in before.findings if f.severity.is_grave and _key(f) not in stands)


def is_judged_anew(finding: Finding, now: Assessment, made: Correction) -> bool:
    """Whether the same answers are judged by the code or the supply that is named now.

    Parameters
    ----------
    finding : Finding
        A danger or a warning that stands as neither any more.
    now : Assessment
        What the record means since.
    made : Correction
        What set it aside.
    """
    was = finding.row
    here = next((r for r in now.rows if (r.check, r.subject) == _key(finding)), None)
    if made.site or made.panels or made.points or here is None:
        return False
    is_same = here.judged == was.judged and not here.is_owed_again and not here.is_left_out
    return is_same and here.judgement.verdict in _JUDGED


def _key(finding: Finding) -> tuple[str, str]:
    return finding.row.check, finding.row.subject


class Corrected:
    """Says what the corrections of one record set aside, again and again while it grows.

    Parameters
    ----------
    judged : callable
        Assesses a record as it was, without what was set aside.
    """

    def __init__(self, judged: Callable[[Visit], Assessment]) -> None:
        self._judge = judged
        self._last: tuple[Visit, Assessment] | None = None  # one correction often follows another
        # by the correction: what was lost, and of which record; how it is told is made anew
        self._known: dict[int, tuple[Visit, tuple[Finding, ...]]] = {}

    def set_aside(self, visit: Visit, now: Assessment) -> tuple[SetAside, ...]:
        """Return what is neither grave now nor was looked at again since, the gravest first.

        Parameters
        ----------
        visit : Visit
            The record.
        now : Assessment
            What it means.
        """
        found = {
            _key(each): (made, each)
            for made in sorted(visit.corrections, key=lambda c: c.number)
            for each in self._by(visit, made)
        }
        stands = {_key(f) for f in now.findings if f.severity.is_grave}
        last = _last_made(visit)
        order = list(Severity)
        return tuple(
            sorted(
                (
                    _aside(visit, now, made, each)
                    for key, (made, each) in found.items()
                    if key not in stands and last.get(key, 0) < made.number
                ),
                key=lambda each: order.index(each.finding.severity),
            )
        )

    def _by(self, visit: Visit, made: Correction) -> tuple[Finding, ...]:
        """Return what one correction set aside when it was made."""
        then = visit.as_recorded(made.number)
        if made.number not in self._known or self._known[made.number][0] != then:
            before = visit.as_recorded(made.number - 1)
            is_of_use = bool(before.entries) and _decisive(before) != _decisive(then)
            found = self._lost(before, then) if is_of_use else ()
            self._known[made.number] = then, found
        return self._known[made.number][1]

    def _lost(self, before: Visit, then: Visit) -> tuple[Finding, ...]:
        was = self._judged(before)
        return lost(was, self._judged(then)) if was.is_grave else ()

    def _judged(self, visit: Visit) -> Assessment:
        if self._last is None or self._last[0] != visit:
            self._last = visit, self._judge(visit)
        return self._last[1]


def _aside(visit: Visit, now: Assessment, made: Correction, finding: Finding) -> SetAside:
    named = [visit.name_of(i) for i in (*(p.id for p in made.panels), *(p.id for p in made.points))]
    of = (
        (made.system, "the supply"),
        (made.code, "the code"),
        (made.site, "the site"),
        (named, ", ".join(named)),
    )
    what = next(words for value, words in of if value)
    return SetAside(
        finding=finding,
        correction=made.number,
        at=made.at,
        what=what,
        is_judged_anew=is_judged_anew(finding, now, made),
    )


def _last_made(visit: Visit) -> dict[tuple[str, str], int]:
    """Return the number of the last entry with answers, by check and subject."""
    last: dict[tuple[str, str], int] = {}
    for e in visit.entries:
        if e.not_done is None:
            last[e.check, e.subject] = max(e.number, last.get((e.check, e.subject), 0))
    return last


def _decisive(visit: Visit) -> tuple[object, ...]:
    """Return the installation without what only names it: that decides nothing."""
    unnamed = {"name": ""}
    return (
        visit.system,
        visit.code,
        visit.site.model_copy(update={"name": "", "address": "", "owner": ""}),
        *(p.model_copy(update=unnamed) for p in (*visit.panels, *visit.points)),
    )
