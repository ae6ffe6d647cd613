"""The catalogs on disk, by Babel."""

from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Final

from babel.messages.catalog import Catalog
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from fieldapp.language import LANGUAGES, REVIEWED
from tests.languages.messages import ROOT

FOLDER = ROOT / "assets" / "languages"
CODES = [code for code in LANGUAGES if code != "en"]
MADE: Final = datetime(2026, 11, 28, tzinfo=UTC)  # a file that is the same each time it is made
HEAD = """# Translations of fieldapp into {name}.
# Not reviewed by a tradesperson: the English text decides."""


def source(code: str) -> Path:
    return FOLDER / f"{code}.po"


def target(code: str) -> Path:
    return FOLDER / f"{code}.mo"


def read(code: str) -> Catalog:
    with source(code).open("rb") as file:
        return read_po(file, locale=code, abort_invalid=True)


def updated(code: str, found: dict[str, list[str]]) -> Catalog:
    """The catalog with exactly the messages of the code, and what is translated of them."""
    old = read(code) if source(code).exists() else Catalog(locale=code)
    head = HEAD.format(name=LANGUAGES[code])
    assert code not in REVIEWED
    new = Catalog(
        locale=code,
        project="fieldapp",
        version="1",
        header_comment=head,
        creation_date=MADE,
        revision_date=MADE,
        fuzzy=False,
    )
    for message in sorted(found, key=lambda m: (found[m][0], m)):
        known = old.get(message)
        string = str(known.string) if known is not None and known.string else ""
        new.add(message, string, locations=[(name, None) for name in found[message][:1]])
    return new


def po(catalog: Catalog) -> bytes:
    file = BytesIO()
    write_po(file, catalog, width=0, omit_header=False)
    return file.getvalue()


def mo(catalog: Catalog) -> bytes:
    file = BytesIO()
    write_mo(file, catalog)
    return file.getvalue()


def lines(composed: list[str]) -> str:
    """The composed messages as the app reads them, one a line."""
    return "".join(f"{m.replace(chr(10), chr(92) + 'n')}\n" for m in composed)


def missing(catalog: Catalog) -> list[str]:
    return [str(m.id) for m in catalog if m.id and not m.string]
