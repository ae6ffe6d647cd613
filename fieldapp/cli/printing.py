"""What the commands print: findings, causes and trends for people, JSON for machines."""

import json
from collections.abc import Sequence
from typing import Any

from checks.assess import Assessment, each_set_aside, kept_off
from checks.causes import Ranking, lines
from checks.record import Visit
from checks.trends import INTERVAL, PointTrend
from checks.verdict import Verdict
from checks.written import with_minus_signs

DECIDES = (
    "The local code, the authority having jurisdiction, the listing, the maker's instructions and "
    "licensed practice decide."
)


def print_findings(visit: Visit, found: Assessment) -> None:
    """Print the findings of an assessment for people."""
    print_lines(f"{_title(visit)}: {found.verdict}")
    print_lines(*(f"\nDANGER  {why}" for why in kept_off(found)))
    for finding in found.findings:
        row, judged = finding.row, finding.row.judgement
        where = f"{visit.name_of(row.subject)}, {row.station}"
        print_lines(f"\n{finding.severity.upper()}  {row.title} ({where}): {judged.verdict}")
        print_lines(f"  {judged.explanation}")
        for limit in judged.limits:
            print_lines(f"  Limit: {limit}, {limit.force}, {limit.source}")
        for label, text in (("Remedy", judged.remedy), ("Settles it", judged.settles)):
            if text:
                print_lines(f"  {label}: {text}")
    print_lines(*(f"\nSET ASIDE  {said}" for said in each_set_aside(visit, found)))
    _print_mended(visit, found)
    count = len(found.unfinished)
    if count:
        print_lines(f"\nNot measured: {count} (this never counts as good)")
        for row in found.unfinished:
            print_lines(
                f"  {row.title} ({visit.name_of(row.subject)}): {row.judgement.explanation}"
            )
    print_lines(f"\n{DECIDES}")


def _print_mended(visit: Visit, found: Assessment) -> None:
    """Print what was found outside and is within since it was mended."""
    for repeat in found.repeats:
        before, after = repeat.before.judgement, repeat.after.judgement
        if before.verdict is Verdict.OUTSIDE and after.verdict is Verdict.WITHIN:
            print_lines(f"\nMENDED  {repeat.after.title} ({visit.name_of(repeat.after.subject)})")
            print_lines(f"  As found: {before.explanation}", f"  Now: {after.explanation}")


def print_causes(visit: Visit, rankings: Sequence[Ranking]) -> None:
    """Print the ranking of each charging point for people."""
    print_lines(_title(visit))
    for ranking in rankings:
        print_lines("", *lines(ranking))
    print_lines(f"\n{DECIDES}")


def print_lines(*said: str) -> None:
    """Print lines for people, who read a minus as a sign of its own."""
    for line in said:
        print(with_minus_signs(line))


def _title(visit: Visit) -> str:
    invented = " (invented for demonstration)" if visit.is_invented else ""
    return f"{visit.site.name}, {visit.kind}{invented}"


def print_trends(found: Sequence[PointTrend]) -> None:
    """Print what changed since earlier visits for people."""
    for each in found:
        signal = f": {each.severity}" if each.severity else ""
        print_lines(f"{each.title} ({each.name}){signal}")
        print_lines(f"  {each.explanation}")
        print_lines(f"  Limit: {each.limit}, {each.limit.force}, {each.limit.source}")
        if each.remedy:
            print_lines(f"  Remedy: {each.remedy}")
    print_lines(f"\nBetween visits the meters' errors are taken as independent; {INTERVAL}.")


def print_json(document: Any) -> None:
    """Print a document for machines; the same one always in the same words."""
    print(json.dumps(document, ensure_ascii=False, indent=1, sort_keys=True))
