"""The same work without a screen. Errors are one line on stderr: what, where, what to do."""

import argparse
import getpass
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from checks import codes
from checks.assess import Assessment, assess
from checks.causes import Ranking, Status, lines
from checks.errors import ChecksError
from checks.intake import read_visit
from checks.record import Visit
from checks.trends import INTERVAL, PointTrend, Seen, trends
from fieldapp.device.desktop import DesktopDevice
from fieldapp.store import (
    Store,
    atomic_write,
    gather,
    read_bundle,
    read_json_file,
    take_in,
    write_bundle,
)
from fieldapp.walk.finish import signed_pdf

GOOD, FOUND, BAD, UNFINISHED = 0, 1, 2, 3
DECIDES = (
    "The local code, the authority having jurisdiction, the listing, the maker's instructions and "
    "licensed practice decide."
)


class UsageError(ChecksError):
    """The call's words are off."""


def main(argv: Sequence[str], *, open_touch: Callable[[Path], int]) -> int:
    """Run one command; return its exit code.

    Parameters
    ----------
    argv : sequence of str
        Without the program's name.
    open_touch : callable
        Opens the touch interface on a data folder.
    """
    args = _parser().parse_args(argv)
    try:
        if args.command is None:
            return _touch(args, open_touch)
        run: Callable[[argparse.Namespace], int] = args.run
        code = run(args)
        sys.stdout.flush()
        return code
    except BrokenPipeError:  # the reader, such as head, has seen enough
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return BAD
    except ChecksError as error:
        print(f"fieldapp: {_one_line(str(error))}", file=sys.stderr)
        return BAD


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _touch(args: argparse.Namespace, open_touch: Callable[[Path], int]) -> int:
    offscreen = os.environ.get("SDL_VIDEODRIVER") == "offscreen"
    on_linux = sys.platform.startswith("linux") and "ANDROID_ARGUMENT" not in os.environ
    if on_linux and not offscreen and not any(map(os.environ.get, ("DISPLAY", "WAYLAND_DISPLAY"))):
        raise UsageError(
            "there is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set)",
            where="touch interface",
            remedy="Start it on a desktop, or run: fieldapp demo",
        )
    return open_touch(_data_dir(args))


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="fieldapp",
        description="The field instrument of the EV-charging trade. Without a command it opens "
        "the touch interface.",
    )
    parser.add_argument("--data", type=Path, help="folder of the visits and the signing key")
    parser.set_defaults(command=None)
    commands = parser.add_subparsers(dest="command", metavar="COMMAND")

    demo = commands.add_parser("demo", help="walk the invented demo visit to its signed report")
    demo.add_argument("--out", type=Path, default=Path("demo.pdf"), metavar="FILE.pdf")
    demo.add_argument("--visit", default="orchard", metavar="NAME", help="orchard or cottage")
    demo.set_defaults(run=_demo)

    one = commands.add_parser("assess", help="print the findings of a record")
    one.add_argument("visit", type=Path, metavar="VISIT.json")
    one.add_argument("--json", action="store_true", help="the whole assessment, for machines")
    one.set_defaults(run=_assess)

    causes = commands.add_parser("causes", help="rank the causes of a service call's fault")
    causes.add_argument("visit", type=Path, metavar="VISIT.json")
    causes.add_argument("--json", action="store_true", help="the rankings, for machines")
    causes.set_defaults(run=_causes)

    trend = commands.add_parser("trend", help="say what changed since earlier visits to the site")
    trend.add_argument("visit", type=Path, metavar="VISIT.json")
    trend.add_argument("earlier", type=Path, nargs="+", metavar="EARLIER.json")
    trend.add_argument("--json", action="store_true", help="the trends, for machines")
    trend.set_defaults(run=_trend)

    report = commands.add_parser("report", help="make the signed report of a record")
    report.add_argument("visit", type=Path, metavar="VISIT.json")
    report.add_argument("--out", type=Path, required=True, metavar="FILE.pdf")
    report.add_argument(
        "--earlier",
        type=Path,
        action="append",
        default=[],
        metavar="EARLIER.json",
        help="an earlier visit to the site; what changed since is set in the annex",
    )
    report.add_argument("--pin-file", metavar="FILE", help="first line is the PIN; - reads stdin")
    report.add_argument(
        "--cert-out",
        type=Path,
        metavar="CERT",
        help="the signer's certificate, to hand to whoever is to trust it",
    )
    report.set_defaults(run=_report)

    verify = commands.add_parser("verify", help="say whether a report is intact and whose it is")
    verify.add_argument("report", type=Path, metavar="FILE.pdf")
    verify.add_argument("--trust", type=Path, action="append", default=[], metavar="CERT")
    verify.add_argument("--json", action="store_true")
    verify.set_defaults(run=_verify)

    schema = commands.add_parser("schema", help="print the JSON Schema of the record")
    schema.set_defaults(run=_schema)

    export = commands.add_parser("export", help="write visits to a bundle")
    export.add_argument("visits", nargs="+", metavar="VISIT_ID")
    export.add_argument("--out", type=Path, required=True, metavar="BUNDLE.zip")
    export.set_defaults(run=_export)

    take = commands.add_parser("import", help="take visits in from a bundle, checked")
    take.add_argument("bundle", type=Path, metavar="BUNDLE.zip")
    take.set_defaults(run=_import)
    return parser


def _data_dir(args: argparse.Namespace) -> Path:
    return args.data if args.data is not None else DesktopDevice().data_dir()


def _read(path: Path) -> tuple[Visit, Assessment]:
    visit = read_visit(read_json_file(path))
    return visit, assess(visit, codes.profile(visit.code))


def _exit_code(found: Assessment) -> int:
    if found.findings:
        return FOUND
    return UNFINISHED if found.unfinished else GOOD


def print_findings(visit: Visit, found: Assessment) -> None:
    """Print the findings of an assessment for people."""
    invented = " (invented for demonstration)" if visit.is_invented else ""
    print(f"{visit.site.name}, {visit.kind}{invented}: {found.verdict}")
    for finding in found.findings:
        row, judged = finding.row, finding.row.judgement
        where = f"{visit.name_of(row.subject)}, {row.station}"
        print(f"\n{finding.severity.upper()}  {row.title} ({where}): {judged.verdict}")
        print(f"  {judged.explanation}")
        for limit in judged.limits:
            print(f"  Limit: {limit}, {limit.force}, {limit.source}")
        for label, text in (("Remedy", judged.remedy), ("Settles it", judged.settles)):
            if text:
                print(f"  {label}: {text}")
    count = len(found.unfinished)
    if count:
        print(f"\nNot measured: {count} (this never counts as good)")
        for row in found.unfinished:
            print(f"  {row.title} ({visit.name_of(row.subject)}): {row.judgement.explanation}")
    print(f"\n{DECIDES}")


def _assess(args: argparse.Namespace) -> int:
    visit, found = _read(args.visit)
    if args.json:
        _print_json(found.model_dump(mode="json"))
    else:
        print_findings(visit, found)
    return _exit_code(found)


def _trend(args: argparse.Namespace) -> int:
    found = trends(Seen(*_read(args.visit)), [Seen(*_read(path)) for path in args.earlier])
    if args.json:
        _print_json([each.model_dump(mode="json") for each in found])
    elif not found:
        print("Nothing to compare: no quantity was found a month apart or more at one point")
    else:
        _print_trends(found)
    if not found:
        return UNFINISHED
    return FOUND if any(each.severity for each in found) else GOOD


def _print_trends(found: Sequence[PointTrend]) -> None:
    for each in found:
        signal = f": {each.severity}" if each.severity else ""
        print(f"{each.title} ({each.name}){signal}")
        print(f"  {each.explanation}")
        print(f"  Limit: {each.limit}, {each.limit.force}, {each.limit.source}")
        if each.remedy:
            print(f"  Remedy: {each.remedy}")
    print(f"\nBetween visits the meters' errors are taken as independent; {INTERVAL}.")


def _causes(args: argparse.Namespace) -> int:
    visit, found = _read(args.visit)
    if not found.causes:
        raise UsageError(
            f"a {visit.kind} has no fault to search",
            where="causes",
            remedy="Give the record of a service call",
        )
    if args.json:
        _print_json([ranking.model_dump(mode="json") for ranking in found.causes])
    else:
        print_causes(visit, found.causes)
    return _searched(found.causes)


def _searched(rankings: Sequence[Ranking]) -> int:
    """0 every cause proven, 1 a likely one or a test is named, 3 no symptom or no test left."""
    if all(r.status is Status.PROVEN for r in rankings):
        return GOOD
    return FOUND if any(r.status is Status.OPEN for r in rankings) else UNFINISHED


def print_causes(visit: Visit, rankings: Sequence[Ranking]) -> None:
    """Print the ranking of each charging point for people."""
    invented = " (invented for demonstration)" if visit.is_invented else ""
    print(f"{visit.site.name}, {visit.kind}{invented}")
    for ranking in rankings:
        print("", *lines(ranking), sep="\n")
    print(f"\n{DECIDES}")


def _print_json(document: Any) -> None:
    print(json.dumps(document, ensure_ascii=False, indent=1, sort_keys=True))


def _demo(args: argparse.Namespace) -> int:
    from fieldapp import demo

    if args.visit not in demo.VISITS:
        raise UsageError(
            f"there is no invented visit {args.visit!r}",
            where="--visit",
            remedy=f"Name one of: {', '.join(demo.VISITS)}",
        )
    visit, found, pdf = demo.run(args.visit)
    _write(args.out, pdf)
    print_findings(visit, found)
    if found.causes:
        print_causes(visit, found.causes)
    if earlier := demo.earlier(args.visit):
        print("\nSince earlier visits")
        _print_trends(trends(Seen(visit, found), earlier))
    print(f"\nSigned report: {args.out}")
    return GOOD


def _write(path: Path, data: bytes, *, where: str = "--out") -> None:
    if not path.absolute().parent.is_dir():
        raise UsageError(
            f"there is no folder {path.absolute().parent}", where=where, remedy="Make it first"
        )
    if path.is_dir():
        raise UsageError(f"{path} is a folder", where=where, remedy="Name a file in it")
    atomic_write(path.absolute(), data)


def _report(args: argparse.Namespace) -> int:
    visit, found = _read(args.visit)
    pdf, fingerprint = signed_pdf(
        visit,
        found,
        keys_dir=_data_dir(args) / "key",
        pin=_pin(args.pin_file),
        now=DesktopDevice().now(),
        photo=None,
        trends=trends(Seen(visit, found), [Seen(*_read(path)) for path in args.earlier]),
        progress=lambda _part, _text: None,
    )
    _write(args.out, pdf)
    if args.cert_out is not None:
        from fieldapp.report import keys

        own = keys.stored_certificate(_data_dir(args) / "key")
        _write(args.cert_out, keys.certificate_pem(own), where="--cert-out")
    print(f"{args.out}: signed, certificate {fingerprint}")
    return GOOD


def _pin(source: str | None) -> str:
    if source == "-":
        return sys.stdin.readline().strip()
    if source is not None:
        try:
            return Path(source).read_text(encoding="utf-8").splitlines()[0].strip()
        except (OSError, UnicodeDecodeError, IndexError) as error:
            raise UsageError(
                f"{source} gives no PIN", where="--pin-file", remedy="Put the PIN on its first line"
            ) from error
    if not sys.stdin.isatty():
        raise UsageError(
            "the PIN of the signing key is missing",
            where="report",
            remedy="Give it with --pin-file, or run it in a terminal",
        )
    return getpass.getpass("PIN of the signing key (made on first use): ")


def _verify(args: argparse.Namespace) -> int:
    from fieldapp.report import keys, verify

    trusted = [keys.read_certificate(_bytes(path, "--trust")) for path in args.trust]
    own = _data_dir(args) / "key"
    if keys.has_key(own):
        trusted.append(keys.stored_certificate(own))
    found = verify.verify(_bytes(args.report, "report"), trusted, _reassess)
    if args.json:
        _print_json({**vars(found), "status": found.status.value})
        return found.status.exit_code
    out = sys.stderr if found.status is verify.Status.UNREADABLE else sys.stdout
    print(f"{args.report}: {found.status}", file=out)
    for line in (*found.reasons, *found.information):
        print(f"  {line}", file=out)
    if found.signer:
        print(f"  signed by {found.signer}, {found.signed_at}, certificate {found.fingerprint}")
    return found.status.exit_code


def _bytes(path: Path, where: str) -> bytes:
    try:
        return path.read_bytes()
    except OSError as error:
        raise UsageError(
            f"{path} cannot be read ({error.strerror})", where=where, remedy="Check the path"
        ) from error


def _reassess(record: dict[str, Any]) -> dict[str, Any]:
    visit = read_visit(record)
    return assess(visit, codes.profile(visit.code)).model_dump(mode="json")


def _schema(_: argparse.Namespace) -> int:
    _print_json(Visit.model_json_schema())
    return GOOD


def _export(args: argparse.Namespace) -> int:
    with Store(_data_dir(args)) as store:
        bundle = gather(store, args.visits)
    write_bundle(args.out, bundle.visits, bundle.photos)
    print(f"{args.out}: {len(bundle.visits)} visits")
    return GOOD


def _import(args: argparse.Namespace) -> int:
    bundle = read_bundle(args.bundle)
    for each in bundle.visits:
        read_visit(each.visit)
    with Store(_data_dir(args)) as store:
        taken = take_in(store, bundle)
    print(f"taken in: {len(taken.stored)}, already here: {len(taken.same)}")
    for visit_id, error in taken.refused.items():
        print(f"fieldapp: {visit_id}: {_one_line(str(error))}", file=sys.stderr)
    return BAD if taken.refused else GOOD
