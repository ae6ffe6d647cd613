"""The signature block at the end of the last page."""

from checks.record import Strokes
from checks.verdict import WORST_FIRST
from fieldapp.figures.marks import color_of
from fieldapp.report.front import by_severity, mark, signal
from fieldapp.report.layout import LEFT, PAD, SIGNATURE_TOP, SPINE, WITNESS_PAD
from fieldapp.report.sheet import BODY, SECTION, SMALL, STRONG, Para, Sheet
from fieldapp.report.words import Case, full_time, sentence

Box = tuple[float, float, float, float]
_PAD_UNITS = 10_000.0  # strokes count in these, over the pad's width
_INSET = 8.0
_PEN = 1.5
_RECAP = 110.0  # least room for saying again what is signed [pt]


def signature(sheet: Sheet, case: Case) -> None:
    """Set the block where the signature's field will lie, on a new page if need be."""
    if sheet.y > SIGNATURE_TOP - 16:
        sheet.add_page()
    if sheet.y < SIGNATURE_TOP - _RECAP:
        _what_is_signed(sheet, case)
    sheet.y = SIGNATURE_TOP
    sheet.pdf.set_y(sheet.y)
    sheet.pdf.start_section("Sign-off")
    sheet.disc((SPINE, SIGNATURE_TOP + 8), 5.5, "accent")
    sheet.disc((SPINE, SIGNATURE_TOP + 8), 2.6, "surface")
    sheet.put(LEFT, SIGNATURE_TOP + 13, "Sign-off", SECTION)
    _technician(sheet, case)
    bottom = sheet.y
    _witness(sheet, case)
    sheet.y = max(bottom, sheet.y) + 6
    _what_it_covers(sheet, case)


def _what_is_signed(sheet: Sheet, case: Case) -> None:
    """Say again, above the signature, what it stands under."""
    sheet.section("What is signed")
    signal(sheet, case)
    verdict = case.assessment.verdict
    mark(sheet, verdict, LEFT, sheet.y + 2, 22)
    counts = ", ".join(f"{case.count(v)} {v}" for v in WORST_FIRST)
    sheet.put(LEFT + 32, sheet.y + 18, verdict, SECTION, color_of(verdict))
    sheet.y += 30
    sheet.flow(f"Checks: {counts}.")
    said = by_severity(case)
    if case.assessment.findings:
        said += " What to do about each is said under Findings."
    sheet.flow(said)


def _technician(sheet: Sheet, case: Case) -> None:
    person, signoff = case.visit.technician, case.visit.signoff
    _pad(sheet, PAD, "Technician", signoff.strokes if signoff else (), "not signed off")
    facts = [
        ("Name", person.name),
        ("License", person.license_number or "not stated"),
        ("Company", person.company),
        ("Signed off", full_time(signoff.at) if signoff else "not signed off"),
        ("Decision", str(signoff.decision) if signoff else "none recorded"),
    ]
    _facts(sheet, PAD, facts)


def _witness(sheet: Sheet, case: Case) -> None:
    """Set who stood by for the owner, or why nobody signed."""
    signoff = case.visit.signoff
    witness = signoff.witness if signoff else None
    strokes, why = (witness.strokes, str(witness.unsigned)) if witness else ((), "no witness named")
    _pad(sheet, WITNESS_PAD, "Witness for the owner", strokes, why if signoff else "not signed off")
    if witness is None:
        sheet.y = 0.0
        return
    facts = [
        ("Name", witness.name),
        ("Role", str(witness.role or "")),
        ("No signature", sentence(str(witness.unsigned or ""))),
        ("Why", sentence(witness.why)),
        ("Says", "Was shown findings and decision; approves neither." if strokes else ""),
    ]
    _facts(sheet, WITNESS_PAD, facts)


def _pad(sheet: Sheet, at: Box, whose: str, strokes: Strokes, empty: str) -> None:
    x, y, w, h = at
    sheet.put(x, y - 5, whose, STRONG)
    sheet.box(x, y, w, h, edge="edge")
    drawn = [p for stroke in strokes for p in stroke]
    if not drawn:
        sheet.put(x + w / 2, y + h / 2, empty, STRONG, "ink_soft", "middle")
        return
    right, bottom = (max(p[i] for p in drawn) for i in (0, 1))
    left, top = (min(p[i] for p in drawn) for i in (0, 1))
    scale = min(
        (w - 2 * _INSET) / _PAD_UNITS,
        (w - 2 * _INSET) / max(1, right - left),
        (h - 2 * _INSET) / max(1, bottom - top),
    )
    dx = x + (w - (right - left) * scale) / 2 - left * scale
    dy = y + (h - (bottom - top) * scale) / 2 - top * scale
    for stroke in strokes:
        points = [(dx + px * scale, dy + py * scale) for px, py in stroke]
        if len(points) == 1:
            sheet.disc(points[0], _PEN, "ink")
        elif points:
            sheet.stroke(points, _PEN, "ink")


def _facts(sheet: Sheet, below: Box, facts: list[tuple[str, str]]) -> None:
    x, y, w, h = below
    sheet.y = y + h + 2
    for label, text in facts:
        if text:
            sheet.paras([Para(_shortened(sheet, text, w - 66), label, before=1)], x, w, 66)


def _shortened(sheet: Sheet, text: str, width: float) -> str:
    """First two lines: the block has a fixed height, and the whole text stands on page one."""
    lines = sheet.lines(text, width, BODY)
    return " ".join(lines[:2]) + (" (…)" if len(lines) > 2 else "")  # noqa: PLR2004 - two lines


def _what_it_covers(sheet: Sheet, case: Case) -> None:
    groups = " ".join(case.fingerprint[i : i + 4] for i in range(0, len(case.fingerprint), 4))
    name = "SHA-256 of the signing certificate"
    sheet.paras([Para(groups or "no signing key was named", name, SMALL)], label_width=108)
    sheet.y += 4
    sheet.flow(
        "The digital signature of this file covers every page, the embedded record (with the hash "
        "of every photo) and the embedded assessment; any later change shows. What is drawn here "
        "is a picture. Compare the fingerprint above with the one the signer gave you.",
        SMALL,
        "ink_soft",
    )
