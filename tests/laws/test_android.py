"""The Android recipe holds together with what it packs. It was not built: that needs an SDK."""

import configparser
import re
import runpy
from fnmatch import fnmatch
from pathlib import Path
from types import SimpleNamespace

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name
from PIL import Image

from tests.laws.test_packaging import PHONE, ROOT, files_below

RECIPE = ROOT / "assets/android"
# python-for-android v2026.05.09, the commit that the recipe names: recipes/NAME/__init__.py.
RECIPES = {
    "cffi": "2.0.0",
    "cryptography": "46.0.3",
    "kivy": "2.3.1",
    "pillow": "11.3.0",
    "pydantic-core": "2.41.4",
}
BUILD_SIDE = {"hostpython3", "python3", "android", "pyjnius"}


def spec(key: str) -> str:
    parser = configparser.ConfigParser(interpolation=None)
    parser.read(RECIPE / "buildozer.spec", encoding="utf-8")
    return parser["app"][key]


def words(key: str) -> list[str]:
    return [word.strip() for word in spec(key).split(",")]


def required() -> dict[str, str]:
    listed = map(Requirement, words("requirements"))
    return {canonicalize_name(r.name): str(r.specifier).removeprefix("==") for r in listed}


def test_the_package_has_the_versions_that_the_tests_run_on() -> None:
    packed = required()
    assert {name: v for name, v in packed.items() if name not in BUILD_SIDE} == PHONE
    assert packed["python3"] == packed["hostpython3"]
    assert packed["python3"].startswith("3.11.")


def test_compiled_packages_have_the_versions_of_their_recipes() -> None:
    assert {name: PHONE[name] for name in RECIPES} == RECIPES


def test_no_file_of_the_app_is_left_behind_by_its_ending() -> None:
    endings = set(words("source.include_exts"))
    shut = words("source.exclude_dirs")
    packed = [
        path.relative_to(ROOT).as_posix()
        for path in files_below(
            "checks", "fieldapp", "fieldapp/assets/demo", "fieldapp/assets/fonts"
        )
    ]
    assert any(name.endswith(".kv") for name in packed)
    assert any(name.endswith(".ttf") for name in packed)
    left = [name for name in packed if name.rpartition(".")[2] not in endings]
    assert left == []
    assert [name for name in packed if any(name.startswith(f"{d}/") for d in shut)] == []


def test_workshop_and_pictures_stay_at_home() -> None:
    shut = words("source.exclude_dirs")
    patterns = words("source.exclude_patterns")
    for name in (
        "tests/gallery/walking.py",
        "assets/demo/orchard.json",
        "fieldapp/assets/android/entry.py",
    ):
        assert any(name.startswith(f"{d}/") for d in shut), name
    assert any(fnmatch("checks/__pycache__/path.cpython-311.pyc", pattern) for pattern in patterns)


def test_the_version_is_read_from_the_app() -> None:
    filename = spec("version.filename").replace("%(source.dir)s", spec("source.dir"))
    found = re.search(spec("version.regex"), (RECIPE / filename).read_text(encoding="utf-8"))
    assert found is not None
    assert re.fullmatch(r"\d+\.\d+\.\d+", found[1])


def test_the_hook_puts_the_entry_where_the_packager_looks(tmp_path: Path) -> None:
    hook = runpy.run_path(str(RECIPE / spec("p4a.hook")))["before_apk_build"]
    hook(SimpleNamespace(args=SimpleNamespace(unknown_args=["--private", str(tmp_path)])))
    assert (tmp_path / "main.py").read_text(encoding="utf-8") == (RECIPE / "entry.py").read_text(
        encoding="utf-8"
    )


def test_what_the_recipe_names_is_there() -> None:
    for key in ("icon.filename", "icon.adaptive_foreground.filename"):
        path = RECIPE / spec(key).replace("%(source.dir)s", spec("source.dir"))
        with Image.open(path) as icon:
            assert icon.size[0] == icon.size[1] >= 432
    assert "enableOnBackInvokedCallback" in (
        RECIPE / spec("android.extra_manifest_application_arguments")
    ).read_text(encoding="utf-8")


def test_the_package_asks_for_no_permission_and_is_not_backed_up() -> None:
    assert spec("android.permissions") == ""
    assert spec("android.allow_backup") == "False"
