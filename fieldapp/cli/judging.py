"""The commands that judge: the demo visit, one record, a service call's causes, trends."""

import argparse
from collections.abc import Sequence
from pathlib import Path

from checks.assess import Assessment, kept_off
from checks.causes import Ranking, Status
from checks.trends import Seen, trends
from fieldapp.cli.call import (
    FOUND,
    GOOD,
    UNFINISHED,
    Commands,
    UsageError,
    add_for_record,
    add_language,
    write,
)
from fieldapp.cli.printing import print_causes, print_findings, print_json, print_trends
from fieldapp.cli.record import read


def add_to(commands: Commands) -> None:
    """Add these commands to the others."""
    demo = commands.add_parser("demo", help="walk the invented demo visit to its signed report")
    demo.add_argument("--out", type=Path, default=Path("demo.pdf"), metavar="FILE.pdf")
    add_language(demo)
    named = "orchard, cottage, westwall, workshop or creekside"
    demo.add_argument("--visit", default="orchard", metavar="NAME", help=named)
    demo.set_defaults(run=_demo)

    add_for_record(
        commands,
        "assess",
        _assess,
        does="print the findings of a record",
        printed="the whole assessment",
    )
    add_for_record(
        commands,
        "causes",
        _causes,
        does="rank the causes of a service call's fault",
        printed="the rankings",
    )
    add_for_record(
        commands,
        "trend",
        _trend,
        does="say what changed since earlier visits to the site",
        printed="the trends",
        with_earlier=True,
    )


def _demo(args: argparse.Namespace) -> int:
    from fieldapp import demo

    if args.visit not in demo.VISITS:
        raise UsageError(
            f"there is no invented visit {args.visit!r}",
            where="--visit",
            remedy=f"Name one of: {', '.join(demo.VISITS)}",
        )
    made = demo.run(args.visit)
    write(args.out, made.pdf)
    print_findings(made.visit, made.assessment)
    if made.assessment.causes:
        print_causes(made.visit, made.assessment.causes)
    if made.trends:
        print("\nSince earlier visits")
        print_trends(made.trends)
    print(f"\nSigned report: {args.out}")
    return GOOD


def _assess(args: argparse.Namespace) -> int:
    visit, found = read(args.visit)
    if args.json:
        print_json(found.model_dump(mode="json"))
    else:
        print_findings(visit, found)
    return _exit_code(found)


def _exit_code(found: Assessment) -> int:
    if found.findings or found.set_aside or kept_off(found):
        return FOUND
    return UNFINISHED if found.unfinished else GOOD


def _causes(args: argparse.Namespace) -> int:
    visit, found = read(args.visit)
    if not found.causes:
        raise UsageError(
            f"a {visit.kind} has no fault to search",
            where="causes",
            remedy="Give the record of a service call",
        )
    if args.json:
        print_json([ranking.model_dump(mode="json") for ranking in found.causes])
    else:
        print_causes(visit, found.causes)
    return _searched(found.causes)


def _searched(rankings: Sequence[Ranking]) -> int:
    """0 every cause proven, 1 a likely one or a test is named, 3 no symptom or no test left."""
    if all(r.status is Status.PROVEN for r in rankings):
        return GOOD
    return FOUND if any(r.status is Status.OPEN for r in rankings) else UNFINISHED


def _trend(args: argparse.Namespace) -> int:
    found = trends(Seen(*read(args.visit)), [Seen(*read(path)) for path in args.earlier])
    if args.json:
        print_json([each.model_dump(mode="json") for each in found])
    elif not found:
        print("Nothing to compare: no quantity was found a month apart or more at one point")
    else:
        print_trends(found)
    if not found:
        return UNFINISHED
    return FOUND if any(each.severity for each in found) else GOOD
