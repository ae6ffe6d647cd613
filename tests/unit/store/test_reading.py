"""The door for JSON from outside: one line that names the place and the remedy."""

from pathlib import Path

import pytest

from fieldapp.store.errors import HostileFileError
from fieldapp.store.reading import parse_json_object, read_json_file

HOSTILE = {
    "an empty file": (b"", "visit.json: the file is empty"),
    "blanks only": (b" \n\t ", "visit.json: the file is empty"),
    "a truncated object": (
        b'{"id": "v",\n "a": [1, 2',
        "line 2, column 12: the file ends too earl",
    ),
    "a truncated text": (b'{"id": "v', "line 1, column 8: the file ends too early"),
    "a list": (b"[1]", "line 1: holds a list, not an object"),
    "a bare number": (b"12", "holds a number, not an object"),
    "a bare text": (b'"v"', "holds a text, not an object"),
    "null": (b"null", "holds null, not an object"),
    "a comma too many": (b'{"a": 1,\n}', "line 2, column 1: is not JSON"),
    "two documents": (b"{}\n{}", "line 2, column 1: is not JSON .extra data"),
    "deep lists": (b'{"a":' + b"[" * 100_000, "line 1, column 69: nested deeper than 64 levels"),
    "deep objects": (b'{"a":' * 100_000, "column 321: nested deeper than 64 levels"),
    "70 levels that end": (b'{"a":' + b"[" * 70 + b"]" * 70 + b"}", "nested deeper than 64"),
    "random bytes": (bytes(range(128, 256)), "line 1: is not text: byte 1 is not UTF-8"),
    "a broken byte in line 3": (b'{\n"a":\n"\xff"}', "line 3: is not text: byte 9 is not UTF-8"),
    "a duplicate name": (b'{"a": [{"b": 1, "b": 2}]}', r"a\[0\]: the name 'b' stands there twice"),
    "a duplicate name at the root": (b'{"b": 1, "b": 1}', "visit.json: the name 'b' stands there"),
    "NaN": (b'{"a": {"v": NaN}}', r"visit\.json: a\.v: NaN is not a number"),
    "Infinity": (b'{"a": [0, Infinity]}', r"visit\.json: a\[1\]: Infinity is not a number"),
    "minus Infinity": (b'{"a": -Infinity}', "-Infinity is not a number"),
    "a float that overflows": (b'{"a": 1e400}', "a: the number 1e400 is too long or too large"),
    "an integer that overflows": (b'{"a": 9007199254740992}', "is too long or too large"),
    "5,000 digits": (b'{"a": ' + b"9" * 5000 + b"}", "is too long or too large"),
    "a UTF-8 byte order mark": (b"\xef\xbb\xbf{}", "begins with a UTF-8 byte order mark"),
    "UTF-16": ("{}".encode("utf-16"), "begins with a UTF-16 byte order mark"),
    "a NUL in a text": (b'{"a": "x\\u0000"}', "visit.json: a: text with a character that cannot"),
    "a lone surrogate": (b'{"a": ["\\ud800"]}', r"a\[0\]: text with a character that cannot"),
    "a lone surrogate in a name": (b'{"\\udfff": 1}', "text with a character that cannot"),
    "a line break in a name": (b'{"a\\nb": NaN}', r"a\\nb: NaN is not a number"),
}


@pytest.mark.parametrize("kind", HOSTILE)
def test_a_hostile_file_is_refused_in_one_line_with_a_remedy(kind: str, tmp_path: Path) -> None:
    raw, said = HOSTILE[kind]
    path = tmp_path / "visit.json"
    path.write_bytes(raw)
    with pytest.raises(HostileFileError, match=said) as caught:
        read_json_file(path)
    assert len(str(caught.value).splitlines()) == 1
    assert len(str(caught.value)) < 250
    assert caught.value.remedy


@pytest.mark.parametrize(("lists", "inside"), [(62, b"1"), (63, b"")])
def test_what_lies_64_levels_deep_is_taken_and_one_level_more_is_not(
    lists: int, inside: bytes
) -> None:
    def nested(count: int) -> bytes:
        return b'{"a":' + b"[" * count + inside + b"]" * count + b"}"

    assert "a" in parse_json_object(nested(lists), "visit.json")
    with pytest.raises(HostileFileError, match="nested deeper than 64 levels"):
        parse_json_object(nested(lists + 1), "visit.json")


def test_a_whole_object_is_returned_as_it_stands(tmp_path: Path) -> None:
    path = tmp_path / "visit.json"
    path.write_text('{"id": "v", "texts": ["Ω", "", "\\ud83d\\ude00"], "n": -3, "x": 0.5}')
    doc = {"id": "v", "texts": ["Ω", "", "😀"], "n": -3, "x": 0.5}
    assert read_json_file(path) == doc


def test_a_file_beyond_the_limit_is_not_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "visit.json"
    path.write_bytes(b" " * 1001)
    with pytest.raises(HostileFileError, match=r"larger than 0\.001 MB"):
        read_json_file(path, limit_bytes=1000)
    with pytest.raises(HostileFileError, match="larger than 4 MB"):
        read_json_file(Path("/dev/zero"))


def test_a_file_that_cannot_be_opened_says_why(tmp_path: Path) -> None:
    with pytest.raises(HostileFileError, match=r"a\.json: cannot be opened .no such file"):
        read_json_file(tmp_path / "a.json")
    with pytest.raises(HostileFileError, match=r"cannot be opened .is a directory"):
        read_json_file(tmp_path)


def test_a_file_name_with_control_characters_stays_on_one_line(tmp_path: Path) -> None:
    path = tmp_path / "a\n\x1b[31m\u202eb.json"
    path.write_bytes(b"")
    with pytest.raises(HostileFileError, match="the file is empty") as caught:
        read_json_file(path)
    assert str(caught.value).isprintable()
