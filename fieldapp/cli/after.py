"""The commands for what lasts beyond a visit: cards to leave, and findings inspected again."""

import argparse
from collections.abc import Iterator, Sequence

from checks.assess import Card, LeaveBehinds, leave_behinds
from checks.trends import Reinspection, Seen, Standing, reinspections
from fieldapp.cli.call import FOUND, GOOD, UNFINISHED, Commands, add_for_record
from fieldapp.cli.printing import print_json, print_lines
from fieldapp.cli.record import read


def add_to(commands: Commands) -> None:
    """Add these commands to the others."""
    add_for_record(
        commands,
        "leave",
        _leave,
        does="print the cards and markings to leave at the site",
        printed="the cards",
    )
    add_for_record(
        commands,
        "again",
        _again,
        does="say what became of what earlier visits found",
        printed="the findings",
        with_earlier=True,
    )


def _leave(args: argparse.Namespace) -> int:
    found = leave_behinds(*read(args.visit))
    if args.json:
        print_json(found.model_dump(mode="json"))
    else:
        print_lines(*_cards(found))
    return UNFINISHED if found.lacking else GOOD


def _cards(found: LeaveBehinds) -> Iterator[str]:
    for card in found.cards:
        yield from (f"{card.title}: {card.goes}", *_words(card), "")
    for each in found.lacking:
        yield f"Not made: {each.kind} ({each.where}). {each.why}"
    if not (found.cards or found.lacking):
        yield "Nothing here asks for a card"


def _words(card: Card) -> Iterator[str]:
    yield from (f"  {severity.upper()}: {text}" for severity, text in card.cautions)
    yield from (f"  {label}: {text}" if label else f"  {text}" for label, text in card.lines)
    yield from (f"  {i}. {step}" for i, step in enumerate(card.steps, 1))
    yield from (f"  Source: {source}" for source in card.sources)


def _again(args: argparse.Namespace) -> int:
    found = reinspections(Seen(*read(args.visit)), [Seen(*read(path)) for path in args.earlier])
    if args.json:
        print_json([each.model_dump(mode="json") for each in found])
    elif found:
        print_lines(*_findings(found))
    else:
        print_lines("No earlier visit left a finding open here")
    if any(each.standing is Standing.FOUND_AGAIN for each in found):
        return FOUND
    return UNFINISHED if any(each.is_open for each in found) else GOOD


def _findings(found: Sequence[Reinspection]) -> Iterator[str]:
    for each in found:
        severity = f" {each.before.severity.upper()}" if each.before.severity else ""
        yield f"{each.title} ({each.name}){severity}"
        yield f"  {each.found}: {each.before.explanation}"
        now = f": {each.now.explanation}" if each.now is not None else ""
        yield f"  {each.stands[:1].upper()}{each.stands[1:]}{now}"
