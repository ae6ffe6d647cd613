"""The command line as a script sees it: words on stdout, one line on stderr, and the exit code."""

import json
import os
import re
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace

import pytest

from checks.record import SCHEMA_VERSION
from fieldapp import cli
from fieldapp.store.folder import KEYS
from tests.builders import visit


def fieldapp(*args: object, cwd: Path, stdin: str = "") -> subprocess.CompletedProcess[str]:
    """Run the command as a user does, in a process of its own and a home of its own."""
    env = {**os.environ, "HOME": str(cwd), "XDG_DATA_HOME": str(cwd / "data")}
    for screen in ("DISPLAY", "WAYLAND_DISPLAY", "SDL_VIDEODRIVER"):
        env.pop(screen, None)
    return subprocess.run(
        [sys.executable, "-m", "fieldapp", *map(str, args)],
        cwd=cwd,
        env=env,
        input=stdin,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo's report and the record detached from it by another program."""
    folder = tmp_path_factory.mktemp("demo")
    made = fieldapp("demo", "--out", "demo.pdf", cwd=folder)
    assert made.returncode == 0, made.stderr
    assert made.stderr == ""
    (folder / "printed.txt").write_text(made.stdout, encoding="utf-8")
    subprocess.run(["pdfdetach", "-saveall", "demo.pdf"], cwd=folder, check=True)
    return folder


def findings(text: str) -> list[str]:
    return re.findall(r"^(?:DANGER|WARNING|CAUTION|NOTICE)  .*$", text, re.MULTILINE)


def test_the_demo_prints_what_is_wrong_and_says_that_it_is_invented(demo: Path) -> None:
    printed = (demo / "printed.txt").read_text(encoding="utf-8")
    assert "invented" in printed
    found = "\n".join(findings(printed))
    assert "Receptacle against circuit" in found
    assert "Volts under load" in found
    assert "Adapter" in found
    assert "borderline" in found
    assert re.search(r"Not measured: \d", printed)
    assert "authority having jurisdiction" in printed


def test_another_program_finds_the_demo_s_signature_valid(demo: Path) -> None:
    seen = subprocess.run(
        ["pdfsig", "demo.pdf"], cwd=demo, capture_output=True, text=True, check=False
    )
    assert "Signature is Valid" in seen.stdout


def test_the_record_in_the_report_gives_the_same_findings(demo: Path) -> None:
    again = fieldapp("assess", "record.json", cwd=demo)
    assert again.returncode == 1
    printed = (demo / "printed.txt").read_text(encoding="utf-8")
    assert findings(again.stdout) == findings(printed) != []


def test_machines_get_the_assessment_as_it_was_signed(demo: Path) -> None:
    again = fieldapp("assess", "record.json", "--json", cwd=demo)
    signed = json.loads((demo / "assessment.json").read_text(encoding="utf-8"))
    assert json.loads(again.stdout) == signed


def test_the_demo_s_signer_is_unknown_until_its_certificate_is_trusted(demo: Path) -> None:
    checked = fieldapp("verify", "demo.pdf", cwd=demo)
    assert (checked.returncode, "signer not known" in checked.stdout) == (3, True)


def test_one_changed_byte_is_said(demo: Path) -> None:
    data = bytearray((demo / "demo.pdf").read_bytes())
    data[len(data) // 3] ^= 1
    (demo / "changed.pdf").write_bytes(data)
    checked = fieldapp("verify", "changed.pdf", cwd=demo)
    assert (checked.returncode, "altered" in checked.stdout) == (1, True)


def test_a_name_in_a_file_steers_no_terminal(tmp_path: Path) -> None:
    record = visit().model_dump(mode="json") | {"a\nb\x1b[31m": 1}  # ECMA-48: ESC [ 31 m is red
    (tmp_path / "record.json").write_text(json.dumps(record), encoding="utf-8")
    refused = fieldapp("assess", "record.json", cwd=tmp_path)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert refused.stderr.startswith("fieldapp: a b?[31m: ")
    assert refused.stderr.count("\n") == 1


def test_a_file_without_an_end_is_refused_before_it_fills_the_memory(tmp_path: Path) -> None:
    refused = fieldapp("verify", "/dev/zero", cwd=tmp_path)
    assert (refused.returncode, refused.stdout) == (2, "")
    assert "larger than 200 MB" in refused.stderr


@pytest.fixture(scope="module")
def signed(demo: Path) -> Path:
    """The same folder, with a report that was signed here and its signer's certificate."""
    (demo / "pin.txt").write_text("274951\n", encoding="utf-8")
    made = fieldapp(
        *("report", "record.json", "--out", "mine.pdf", "--pin-file", "pin.txt"),
        *("--cert-out", "signer.pem"),
        cwd=demo,
    )
    assert made.returncode == 0, made.stderr
    return demo


def test_a_report_is_signed_with_the_technician_s_own_key_and_trusted_here(signed: Path) -> None:
    checked = fieldapp("verify", "mine.pdf", cwd=signed)
    assert (checked.returncode, checked.stderr) == (0, "")
    own = signed / "data" / "fieldapp" / KEYS  # where the touch interface keeps its key too
    assert own.is_dir()
    wrong = fieldapp(
        "report", "record.json", "--out", "x.pdf", "--pin-file", "-", cwd=signed, stdin="111222\n"
    )
    assert wrong.returncode == 2
    assert "PIN" in wrong.stderr
    assert not (signed / "x.pdf").exists()


def test_whoever_has_the_certificate_can_trust_the_report(signed: Path, tmp_path: Path) -> None:
    for name in ("mine.pdf", "signer.pem"):
        (tmp_path / name).write_bytes((signed / name).read_bytes())
    stranger = fieldapp("verify", "mine.pdf", cwd=tmp_path)
    assert stranger.returncode == 3
    trusting = fieldapp("verify", "mine.pdf", "--trust", "signer.pem", cwd=tmp_path)
    assert trusting.returncode == 0, trusting.stdout


def test_a_signed_draft_is_called_a_draft(signed: Path) -> None:
    record = json.loads((signed / "record.json").read_text(encoding="utf-8"))
    (signed / "draft.json").write_text(json.dumps({**record, "signoff": None}), encoding="utf-8")
    call = ("report", "draft.json", "--out", "draft.pdf", "--pin-file", "pin.txt")
    assert fieldapp(*call, cwd=signed).returncode == 0
    for name, is_draft in (("draft.pdf", True), ("mine.pdf", False)):
        checked = fieldapp("verify", name, cwd=signed)
        assert ("a draft: the record was not signed off" in checked.stdout) is is_draft


def test_nobody_signs_another_technician_s_record(signed: Path) -> None:
    record = json.loads((signed / "record.json").read_text(encoding="utf-8"))
    record["technician"]["name"] = "Somebody Else"
    (signed / "other.json").write_text(json.dumps(record), encoding="utf-8")
    call = ("report", "other.json", "--out", "own.pdf", "--pin-file", "pin.txt")
    refused = fieldapp(*call, cwd=signed)
    assert refused.returncode == 2
    assert "Somebody Else" in refused.stderr


def test_without_a_screen_the_touch_interface_says_what_is_missing(tmp_path: Path) -> None:
    opened = fieldapp(cwd=tmp_path)
    assert opened.returncode == 2
    assert "no screen" in opened.stderr
    assert "fieldapp demo" in opened.stderr


def test_the_schema_is_json_schema(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["schema"], open_touch=lambda _: 0) == 0
    schema = json.loads(capsys.readouterr().out)
    assert schema["properties"]["schema_version"]["default"] == SCHEMA_VERSION
    assert "entries" in schema["properties"]


def broken(record: dict[str, object], kind: str) -> bytes:
    """One broken file for each mistake."""
    text = json.dumps(record)
    reading = '"value": "229.4"'
    assert reading in text
    files = {
        "empty": b"",
        "truncated": text.encode()[:-200],
        "a list": b"[]",
        "nested 100,000 deep": b'{"a":' + b"[" * 100_000 + b"]" * 100_000 + b"}",
        "random bytes": bytes((i * 73 + 41) % 256 for i in range(4000)),
        "an unknown field": json.dumps({**record, "colour": "red"}).encode(),
        "a bare number": text.replace(reading, '"value": 229.4').encode(),
        "text for a number": text.replace(reading, '"value": "about 230"').encode(),
        "NaN": text.replace(reading, '"value": NaN').encode(),
        "NaN in quotes": text.replace(reading, '"value": "NaN"').encode(),
        "an exponent": text.replace(reading, '"value": "2.294e2"').encode(),
        "the wrong sign": text.replace(reading, '"value": "-229.4"').encode(),
    }
    return files[kind]


FIELD_NAMED = {
    "an unknown field": "colour",
    "a bare number": "value",
    "text for a number": "value",
    "NaN": "NaN",
    "NaN in quotes": "value",
    "an exponent": "value",
    "the wrong sign": "value",
}


@pytest.mark.parametrize(
    "kind",
    [
        "empty",
        "truncated",
        "a list",
        "nested 100,000 deep",
        "random bytes",
        *FIELD_NAMED,
    ],
)
def test_a_broken_file_is_refused_in_one_line(
    kind: str, demo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    record = json.loads((demo / "record.json").read_text(encoding="utf-8"))
    path = tmp_path / "visit.json"
    path.write_bytes(broken(record, kind))
    assert cli.main(["assess", str(path)], open_touch=lambda _: 0) == 2
    out, err = capsys.readouterr()
    assert out == ""
    assert err.count("\n") == 1
    assert "Traceback" not in err
    assert FIELD_NAMED.get(kind, "") in err


def test_a_file_that_is_not_there_is_said(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["assess", "nowhere.json"], open_touch=lambda _: 0) == 2
    assert "nowhere.json" in capsys.readouterr().err


def test_a_folder_in_place_of_a_file_is_named(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert cli.main(["assess", "."], open_touch=lambda _: 0) == 2
    assert capsys.readouterr().err.startswith("fieldapp: .: cannot be opened")


def test_a_reader_that_has_seen_enough_is_no_fault(tmp_path: Path) -> None:
    """As with ``fieldapp schema | head -1``: the pipe is closed before all is written."""
    reading, writing = os.pipe()
    os.close(reading)
    done = subprocess.run(
        [sys.executable, "-m", "fieldapp", "schema"],
        stdout=writing,
        stderr=subprocess.PIPE,
        text=True,
        timeout=60,
        check=False,
    )
    os.close(writing)
    assert done.stderr == ""


@pytest.mark.parametrize(
    ("call", "told"),
    [
        ("--data file export v --out b.zip", "file: could not be written (not a directory)"),
        ("--data file/deep export v --out b.zip", "deep: could not be written (not a directory)"),
        ("--data data export v --out none/b.zip", "v: is not stored"),
        ("demo --out none/d.pdf", "there is no folder"),
        ("demo --out data", "data is a folder. Name a file in it"),
    ],
)
def test_a_wrong_folder_has_a_remedy_that_fits_a_command_line(
    call: str,
    told: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr("fieldapp.demo.run", lambda _: SimpleNamespace(pdf=b"%PDF"))
    Path("file").write_bytes(b"")
    Path("data").mkdir()
    assert cli.main(call.split(), open_touch=lambda _: 0) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert told in line
    assert "restart" not in line
