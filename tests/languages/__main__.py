"""Bring the catalogs up to date with the code and compile them: ``python -m tests.languages``."""

import sys

from tests.languages import catalogs
from tests.languages.messages import composed, messages


def main() -> None:
    found = messages()
    catalogs.FOLDER.mkdir(exist_ok=True)
    (catalogs.FOLDER / "composed.txt").write_text(catalogs.lines(composed(found)), encoding="utf-8")
    for code in catalogs.CODES:
        catalog = catalogs.updated(code, found)
        catalogs.source(code).write_bytes(catalogs.po(catalog))
        catalogs.target(code).write_bytes(catalogs.mo(catalog))
        lacking = len(catalogs.missing(catalog))
        sys.stdout.write(f"{code}: {len(found)} messages, {lacking} not translated\n")


if __name__ == "__main__":
    main()
