"""The import rules hold, and each of them is seen to catch an offence planted in a copy."""

import ast
import re
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]

# Module, a line planted in it, and how the linter reports it.
OFFENCES = [
    ("checks/electrical/planted.py", "import pathlib", "checks.electrical.planted -> pathlib"),
    ("checks/electrical/planted.py", "import time", "checks.electrical.planted -> time"),
    (
        "checks/electrical/planted.py",
        "import checks.codes",
        "checks.electrical.planted -> checks.codes",
    ),
    (
        "checks/codes/planted.py",
        "import checks.stations",
        "checks.codes.planted -> checks.stations",
    ),
    ("checks/record/planted.py", "import fieldapp.walk", "checks.record.planted -> fieldapp.walk"),
    ("checks/planted.py", "", "checks.planted"),
    ("fieldapp/store/planted.py", "import kivy", "fieldapp.store.planted -> kivy"),
    (
        "fieldapp/store/planted.py",
        "import fieldapp.report",
        "fieldapp.store.planted -> fieldapp.report",
    ),
    ("fieldapp/screens/planted.py", "import tinydb", "fieldapp.screens.planted -> tinydb"),
    ("fieldapp/screens/planted.py", "import fpdf", "fieldapp.screens.planted -> fpdf"),
    ("fieldapp/device/planted.py", "import pyhanko", "fieldapp.device.planted -> pyhanko"),
    ("fieldapp/planted.py", "", "fieldapp.planted"),
]
CLOCKS = ["datetime.datetime.now()", "datetime.datetime.utcnow()", "datetime.date.today()"]


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    for package in ("checks", "fieldapp"):
        ignored = shutil.ignore_patterns("__pycache__", "assets")
        shutil.copytree(ROOT / package, tmp_path / package, ignore=ignored)
    shutil.copy(ROOT / "pyproject.toml", tmp_path)
    return tmp_path


def run(folder: Path, *command: str) -> subprocess.CompletedProcess[str]:
    tool = Path(sys.executable).parent / command[0]
    return subprocess.run(
        [tool, *command[1:]], cwd=folder, capture_output=True, text=True, check=False
    )


def reported(output: str) -> str:
    """The linter's words with its line breaks, bullets and line numbers smoothed out."""
    return re.sub(r"\s+", " ", output)


def test_the_code_keeps_every_contract(copy: Path) -> None:
    result = run(copy, "lint-imports", "--no-cache")
    assert result.returncode == 0, result.stdout + result.stderr


def test_every_planted_offence_is_reported(copy: Path) -> None:
    for module, line, _ in OFFENCES:
        with (copy / module).open("a", encoding="utf-8") as file:
            file.write(f"{line}\n")
    result = run(copy, "lint-imports", "--no-cache")
    assert result.returncode == 1, result.stdout + result.stderr
    output = reported(result.stdout)
    assert [report for _, _, report in OFFENCES if report not in output] == []


def test_clocks_called_by_name_are_reported_in_the_trade_only(copy: Path) -> None:
    body = "import datetime\n\n" + "\n".join(f"x{i} = {c}" for i, c in enumerate(CLOCKS)) + "\n"
    for package in ("checks", "fieldapp"):
        (copy / package / "planted.py").write_text(body, encoding="utf-8")
    command = "ruff", "check", "--no-cache", "--select=TID251", "--output-format=concise"
    in_trade = run(copy, *command, "checks")
    assert in_trade.stdout.count("TID251") == len(CLOCKS), in_trade.stdout
    assert run(copy, *command, "fieldapp").returncode == 0


def opens_a_file(source: str) -> bool:
    return any(
        isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "open"
        for node in ast.walk(ast.parse(source))
    )


def test_the_trade_opens_no_file() -> None:
    assert opens_a_file("text = open('visit.json').read()")
    sources = list((ROOT / "checks").rglob("*.py"))
    assert sources
    assert [p for p in sources if opens_a_file(p.read_text(encoding="utf-8"))] == []


def test_kv_files_reach_only_what_a_layout_may_show() -> None:
    allowed = ("kivy.", "fieldapp.theme", "fieldapp.figures", "fieldapp.widgets")
    reached = [
        (path.relative_to(ROOT), module)
        for path in (ROOT / "fieldapp").rglob("*.kv")
        for module in re.findall(
            r"^#:\s*import\s+\S+\s+(\S+)", path.read_text(encoding="utf-8"), re.MULTILINE
        )
    ]
    assert [entry for entry in reached if not entry[1].startswith(allowed)] == []
