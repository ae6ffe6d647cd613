"""What leaves the workshop is whole: the wheel, and the versions it is tested with."""

import shutil
import subprocess
import sys
import tomllib
import zipfile
from collections.abc import Iterator
from importlib import metadata
from pathlib import Path

import pytest
from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[2]
PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
# What the package index offered as newest on 2026-11-25; pip lists it with `pip index versions`.
NEWEST = {
    "kivy": "2.3.1",
    "tinydb": "4.9.0",
    "fpdf2": "2.8.9",
    "pydantic": "2.14.4",
    "uncertainties": "3.2.3",
    "pyhanko": "0.38.0",
    "cryptography": "50.0.2",
    "pillow": "13.0.0",
}


def pins(path: str) -> dict[str, str]:
    lines = (ROOT / path).read_text(encoding="utf-8").splitlines()
    pairs = (line.split("==") for line in lines if line and not line.startswith("#"))
    return {canonicalize_name(name): version for name, version in pairs}


PHONE = pins("assets/android/constraints.txt")


def needed(requirements: list[str], seen: dict[str, metadata.Distribution]) -> None:
    """Everything that these requirements bring along on this machine, by name, into `seen`."""
    for requirement in map(Requirement, requirements):
        name = canonicalize_name(requirement.name)
        if name in seen or (requirement.marker and not requirement.marker.evaluate({"extra": ""})):
            continue
        seen[name] = metadata.distribution(name)
        needed(seen[name].requires or [], seen)


@pytest.fixture(scope="module")
def dependencies() -> dict[str, metadata.Distribution]:
    found: dict[str, metadata.Distribution] = {}
    needed(PROJECT["dependencies"], found)
    return found


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A wheel built from a copy, so that no leftover of an earlier build gets in."""
    source, out = tmp_path_factory.mktemp("source"), tmp_path_factory.mktemp("dist")
    ignored = shutil.ignore_patterns("__pycache__", "*.egg-info")
    for folder in ("checks", "fieldapp", "assets"):
        shutil.copytree(ROOT / folder, source / folder, symlinks=True, ignore=ignored)
    shutil.copy(ROOT / "pyproject.toml", source)
    pip = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    options = ["--no-deps", "--no-build-isolation", "--wheel-dir", str(out)]
    subprocess.run([*pip, "wheel", *options, str(source)], check=True)
    (built,) = out.glob("*.whl")
    return built


@pytest.fixture(scope="module")
def empty_machine(
    wheel: Path,
    dependencies: dict[str, metadata.Distribution],
    tmp_path_factory: pytest.TempPathFactory,
) -> Path:
    """A new virtual environment that holds the wheel, what it declares to need, and nothing else.

    pip installs the wheel as a user's would. Instead of a download, each declared dependency (and
    what that one declares) is linked in from the environment of the tests: the same files. Shown:
    the wheel is complete, and its declared dependencies suffice. Not shown: that an index has them.
    """
    folder = tmp_path_factory.mktemp("machine") / "venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", folder], check=True)
    python = folder / "bin" / "python"
    (site,) = folder.glob("lib/python*/site-packages")
    for distribution in dependencies.values():
        for top in {file.parts[0] for file in distribution.files or []} - {"..", "__pycache__"}:
            if not (site / top).exists():
                (site / top).symlink_to(Path(str(distribution.locate_file(top))))
    pip = [sys.executable, "-m", "pip", "--quiet", "--disable-pip-version-check"]
    options = ["--no-deps", "--no-index", str(wheel)]
    subprocess.run([*pip, "--python", str(python), "install", *options], check=True)
    return folder


def run(command: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    environment = {"PATH": "/usr/bin:/bin", "HOME": str(folder), "LANG": "C.UTF-8"}
    return subprocess.run(
        command, cwd=folder, env=environment, capture_output=True, text=True, check=False
    )


def files_below(*folders: str) -> Iterator[Path]:
    for folder in folders:
        for path in (ROOT / folder).rglob("*"):
            if path.is_file() and "__pycache__" not in path.parts:
                yield path


def test_the_wheel_holds_every_module_layout_and_asset(wheel: Path) -> None:
    names = set(zipfile.ZipFile(wheel).namelist())
    code = {
        path.relative_to(ROOT).as_posix()
        for path in files_below("checks", "fieldapp")
        if path.suffix in {".py", ".kv"}
    }
    travelling = {
        f"fieldapp/{path.relative_to(ROOT).as_posix()}"
        for path in files_below("assets")
        if "android" not in path.relative_to(ROOT).parts and path.suffix != ".po"
    }
    assert {Path(name).suffix for name in code | travelling} >= {".py", ".kv", ".ttf"}
    assert sorted((code | travelling) - names) == []


def test_the_wheel_holds_nothing_of_the_workshop(wheel: Path) -> None:
    names = zipfile.ZipFile(wheel).namelist()
    strays = ("tests/", "assets/", ".ci/", "fieldapp/assets/android/")
    assert [name for name in names if name.startswith(strays)] == []


def test_an_installed_wheel_brings_its_own_code_and_assets(
    empty_machine: Path, tmp_path: Path
) -> None:
    code = """
import checks, fieldapp.theme
print(checks.__path__[0], fieldapp.__path__[0], fieldapp.theme.asset("fonts"))
"""
    found = run([str(empty_machine / "bin" / "python"), "-c", code], tmp_path)
    (site,) = empty_machine.glob("lib/python*/site-packages")
    expected = [site / "checks", site / "fieldapp", site / "fieldapp" / "assets" / "fonts"]
    assert found.stdout.split() == list(map(str, expected)), found.stderr


def test_the_installed_demo_makes_its_report_in_any_folder(
    empty_machine: Path, tmp_path: Path
) -> None:
    result = run([str(empty_machine / "bin" / "fieldapp"), "demo", "--out", "demo.pdf"], tmp_path)
    assert result.returncode == 0, result.stderr
    assert result.stderr == ""
    assert "outside" in result.stdout
    assert (tmp_path / "demo.pdf").read_bytes().startswith(b"%PDF-")


@pytest.mark.parametrize("line", PROJECT["dependencies"])
def test_a_dependency_admits_the_version_of_the_phone_and_the_newest(line: str) -> None:
    requirement = Requirement(line)
    name = canonicalize_name(requirement.name)
    assert {PHONE[name], NEWEST[name]} == set(
        requirement.specifier.filter([PHONE[name], NEWEST[name]])
    )


def test_the_tests_run_on_the_set_of_the_phone(
    dependencies: dict[str, metadata.Distribution],
) -> None:
    assert {name: found.version for name, found in dependencies.items()} == PHONE


def test_every_tool_of_the_gate_is_pinned_and_none_twice() -> None:
    tools = pins(".ci/constraints.txt")
    assert not tools.keys() & PHONE.keys()
    found: dict[str, metadata.Distribution] = {}
    needed(PROJECT["optional-dependencies"]["test"], found)
    installed = {name: item.version for name, item in found.items() if name not in PHONE}
    assert installed == tools
