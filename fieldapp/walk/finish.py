"""The end of a visit: sign-off, the signed report, and the seal that closes the record for ever."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Final

from checks.assess import Assessment
from checks.record import Decision, Person, SignOff, Strokes, Visit, Witness
from checks.trends import PointTrend, Reinspection
from fieldapp.store.visits import Store
from fieldapp.walk.desk import NotReadyError, require_technician
from fieldapp.walk.ledger import Clock
from fieldapp.walk.visit import Walk

if TYPE_CHECKING:
    from fieldapp.report.keys import SigningKey

Progress = Callable[[float, str], None]

KEY_YEARS: Final = 10
DAYS_IN_A_YEAR: Final = 365


@dataclass(frozen=True)
class FinishedReport:
    """A signed report on disk.

    Parameters
    ----------
    path : Path
        The PDF.
    fingerprint : str
        SHA-256 of the signer's certificate.
    """

    path: Path
    fingerprint: str


def signed_pdf(
    visit: Visit,
    assessment: Assessment,
    *,
    keys_dir: Path,
    pin: str,
    now: datetime,
    photo: Callable[[str], bytes] | None,
    progress: Progress,
    trends: Sequence[PointTrend] = (),
    again: Sequence[Reinspection] = (),
) -> tuple[bytes, str]:
    """Make the report and sign it with the technician's own key, made on first use.

    Returns
    -------
    tuple of bytes and str
        The PDF, and the fingerprint of the certificate.

    Raises
    ------
    checks.errors.ChecksError
        A wrong PIN, a damaged key, or whatever else the report names.
    """
    # fpdf and pyHanko take as long to import as the whole interface: only when a report is made
    from fieldapp.report import pages, sign

    progress(0.0, "Opening the signing key")
    key = _key(keys_dir, pin, visit.technician, now)
    from fieldapp.report import keys

    print_of_key = keys.fingerprint(key.certificate)
    at = now.isoformat(timespec="seconds")
    unsigned = pages.build(
        visit,
        assessment,
        at=at,
        fingerprint=print_of_key,
        photo=photo,
        trends=trends,
        again=again,
        progress=lambda part, text: progress(0.1 + 0.7 * part, text),
    )
    progress(0.8, "Signing")
    return sign.sign(unsigned, key, at=at), print_of_key


def _key(keys_dir: Path, pin: str, technician: Person, now: datetime) -> "SigningKey":
    from fieldapp.report import keys

    if not keys.has_key(keys_dir):
        until = now + timedelta(days=KEY_YEARS * DAYS_IN_A_YEAR)
        return keys.create_key(keys_dir, pin, technician, not_before=now, not_after=until)
    owner = keys.owner(keys.stored_certificate(keys_dir))
    if owner != keys.common_name(technician):
        raise NotReadyError(
            f"the signing key here is {owner}'s, and the record names {technician.name}",
            where="signature",
            remedy="Sign with the key of who did the work, or correct the name in the record",
        )
    return keys.open_key(keys_dir, pin)


def has_key(keys_dir: Path) -> bool:
    """Return whether the technician's signing key was made already."""
    from fieldapp.report import keys

    return keys.has_key(keys_dir)


def finish(
    store: Store,
    walk: Walk,
    keys_dir: Path,
    *,
    strokes: Strokes,
    decision: Decision,
    witness: Witness | None,
    pin: str,
    now: Clock,
    progress: Progress,
    trends: Sequence[PointTrend] = (),
    again: Sequence[Reinspection] = (),
) -> FinishedReport:
    """Sign the visit off: record the signature, make and sign the report, close the record.

    Nothing is lost on a failure or a cancel: the record stays open with all its entries, and
    finishing can be tried again.

    Raises
    ------
    checks.errors.ChecksError
        Nobody is named who signs, a wrong PIN, a full disk.
    """
    require_technician(walk.visit.technician)
    at = now()
    walk.sign_off(
        SignOff(
            at=at.isoformat(timespec="seconds"),
            decision=decision,
            strokes=tuple(tuple((x, y) for x, y in stroke) for stroke in strokes),
            witness=witness,
        )
    )
    pdf, print_of_key = signed_pdf(
        walk.visit,
        walk.assessment,
        keys_dir=keys_dir,
        pin=pin,
        now=at,
        photo=store.photos.load,
        trends=trends,
        again=again,
        progress=progress,
    )
    progress(0.95, "Closing the record")
    seal = {
        "at": at.isoformat(timespec="seconds"),
        "software": walk.assessment.software,
        "code": walk.assessment.code,
        "fingerprint": print_of_key,
        "assessment": walk.assessment.model_dump(mode="json"),
    }
    store.seal(walk.visit.id, seal, report=pdf)
    walk.seal = store.load(walk.visit.id).seal
    progress(1.0, "Done")
    return FinishedReport(store.report_path(walk.visit.id), print_of_key)
