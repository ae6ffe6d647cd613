"""The commands that keep and hand on: the signed report, its verification, schema, bundles."""

import argparse
import getpass
import sys
from pathlib import Path
from typing import Any

from checks.intake import read_visit
from checks.record import Visit
from checks.trends import Seen, reinspections, trends
from fieldapp.cli.call import (
    BAD,
    GOOD,
    Commands,
    UsageError,
    add_language,
    data_dir,
    one_line,
    read_bytes,
    write,
)
from fieldapp.cli.printing import print_json
from fieldapp.cli.record import judged, read
from fieldapp.device.desktop import DesktopDevice
from fieldapp.store.bundle import read_bundle, write_bundle
from fieldapp.store.folder import KEYS
from fieldapp.store.transfer import gather, take_in
from fieldapp.store.visits import Store
from fieldapp.walk.finish import signed_pdf


def add_to(commands: Commands) -> None:
    """Add these commands to the others."""
    report = commands.add_parser("report", help="make the signed report of a record")
    report.add_argument("visit", type=Path, metavar="VISIT.json")
    add_language(report)
    report.add_argument("--out", type=Path, required=True, metavar="FILE.pdf")
    report.add_argument(
        "--earlier",
        type=Path,
        action="append",
        default=[],
        metavar="EARLIER.json",
        help="an earlier visit to the site; the report says what changed since, and what became "
        "of what was found",
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


def _report(args: argparse.Namespace) -> int:
    visit, found = read(args.visit)
    seen, earlier = Seen(visit, found), [Seen(*read(path)) for path in args.earlier]
    pdf, fingerprint = signed_pdf(
        visit,
        found,
        keys_dir=data_dir(args) / KEYS,
        pin=_pin(args.pin_file),
        now=DesktopDevice().now(),
        photo=None,
        trends=trends(seen, earlier),
        again=reinspections(seen, earlier),
        progress=lambda _part, _text: None,
    )
    write(args.out, pdf)
    if args.cert_out is not None:
        from fieldapp.report import keys

        own = keys.stored_certificate(data_dir(args) / KEYS)
        write(args.cert_out, keys.certificate_pem(own), where="--cert-out")
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

    trusted = [keys.read_certificate(read_bytes(path, "--trust")) for path in args.trust]
    own = data_dir(args) / KEYS
    if keys.has_key(own):
        trusted.append(keys.stored_certificate(own))
    found = verify.verify(read_bytes(args.report, "report"), trusted, _reassess)
    if args.json:
        print_json({**vars(found), "status": found.status.value})
        return found.status.exit_code
    out = sys.stderr if found.status is verify.Status.UNREADABLE else sys.stdout
    print(f"{args.report}: {found.status}", file=out)
    for line in (*found.reasons, *found.information):
        print(f"  {line}", file=out)
    if found.signer:
        print(f"  signed by {found.signer}, {found.signed_at}, certificate {found.fingerprint}")
    return found.status.exit_code


def _reassess(record: dict[str, Any]) -> dict[str, Any]:
    return judged(record)[1].model_dump(mode="json")


def _schema(_: argparse.Namespace) -> int:
    print_json(Visit.model_json_schema())
    return GOOD


def _export(args: argparse.Namespace) -> int:
    with Store(data_dir(args)) as store:
        bundle = gather(store, args.visits)
    write_bundle(args.out, bundle.visits, bundle.photos)
    print(f"{args.out}: {len(bundle.visits)} visits")
    return GOOD


def _import(args: argparse.Namespace) -> int:
    bundle = read_bundle(args.bundle)
    for each in bundle.visits:
        read_visit(each.visit)
    with Store(data_dir(args)) as store:
        taken = take_in(store, bundle)
    print(f"taken in: {len(taken.stored)}, already here: {len(taken.same)}")
    for visit_id, error in taken.refused.items():
        print(f"fieldapp: {visit_id}: {one_line(str(error))}", file=sys.stderr)
    return BAD if taken.refused else GOOD
