"""The port, and those who answer it: desktop, Android (by its signatures only) and the fake."""

import inspect
import os
import queue
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from fieldapp.device import this_device
from fieldapp.device.android import AndroidDevice
from fieldapp.device.desktop import DesktopDevice
from fieldapp.device.port import Device, DeviceError, Insets
from tests.fakes.device import FakeDevice

METHODS = [name for name in vars(Device) if not name.startswith("_")]


@pytest.mark.parametrize("kind", [DesktopDevice, AndroidDevice, FakeDevice])
@pytest.mark.parametrize("method", METHODS)
def test_every_device_answers_as_the_port_says(kind: type, method: str) -> None:
    expected = inspect.signature(getattr(Device, method))
    assert inspect.signature(getattr(kind, method)) == expected


def test_this_computer_is_a_desktop() -> None:
    assert isinstance(this_device(), DesktopDevice)


@pytest.fixture
def programs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a folder that is the whole search path for programs."""
    folder = tmp_path / "programs"
    folder.mkdir()
    monkeypatch.setenv("PATH", str(folder))
    return folder


def program(folder: Path, name: str, script: str) -> None:
    (folder / name).write_text(f"#!/bin/sh\n{script}\n")
    (folder / name).chmod(0o700)


def answer_of(device: DesktopDevice, target: Path | None = None) -> Path | DeviceError | None:
    answers: queue.Queue[Path | DeviceError | None] = queue.Queue()
    if target is None:
        device.pick_file(answers.put)
    else:
        device.take_photo(target, answers.put)
    return answers.get(timeout=10)


def test_the_data_folder_is_made_and_only_the_owner_may_look(tmp_path: Path) -> None:
    folder = DesktopDevice(tmp_path / "a" / "b").data_dir()
    assert folder.is_dir()
    assert folder.stat().st_mode & 0o777 == 0o700


@pytest.mark.parametrize(
    ("value", "expected"),
    [
        ("/elsewhere", "/elsewhere/fieldapp"),
        ("", "~/.local/share/fieldapp"),
        ("relative", "~/.local/share/fieldapp"),
    ],
)
def test_the_data_folder_follows_the_desktop_standard(
    value: str, expected: str, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", value)
    monkeypatch.setenv("HOME", str(tmp_path))
    made: list[Path] = []
    monkeypatch.setattr(Path, "mkdir", lambda self, *a, **k: made.append(self))
    assert DesktopDevice().data_dir() == Path(os.path.expanduser(expected))
    assert made == [Path(os.path.expanduser(expected))]


def test_a_data_folder_that_cannot_be_made_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    with pytest.raises(DeviceError, match=r"data folder: the folder .* cannot be made"):
        DesktopDevice(tmp_path / "file" / "data").data_dir()


def test_the_clock_of_a_desktop_tells_its_zone_and_the_time() -> None:
    now = DesktopDevice().now()
    assert now.tzinfo is not None
    assert abs(now - datetime.now(UTC)) < timedelta(minutes=1)


def test_a_desktop_window_has_no_insets() -> None:
    assert DesktopDevice().insets() == Insets(0, 0, 0, 0)


def test_a_photo_on_a_desktop_is_a_copy_of_a_chosen_picture(programs: Path, tmp_path: Path) -> None:
    chosen, target = tmp_path / "chosen one.jpg", tmp_path / "target.jpg"
    chosen.write_bytes(b"picture")
    program(programs, "zenity", f"echo '{chosen}'")
    device = DesktopDevice(tmp_path)
    assert not device.recover_photo(target)
    assert answer_of(device, target) == target
    assert target.read_bytes() == b"picture"
    assert device.recover_photo(target)


def test_turning_back_in_the_file_dialog_is_none(programs: Path, tmp_path: Path) -> None:
    program(programs, "kdialog", "exit 1")
    assert answer_of(DesktopDevice(tmp_path)) is None
    assert answer_of(DesktopDevice(tmp_path), tmp_path / "target.jpg") is None


def test_a_picture_that_cannot_be_copied_is_an_error_for_people(
    programs: Path, tmp_path: Path
) -> None:
    program(programs, "zenity", "echo /nowhere/at/all.jpg")
    answer = answer_of(DesktopDevice(tmp_path), tmp_path / "target.jpg")
    assert isinstance(answer, DeviceError)
    assert "the picture could not be copied" in str(answer)
    assert not (tmp_path / "target.jpg").exists()


def test_a_computer_without_a_file_dialog_says_what_to_install(
    programs: Path, tmp_path: Path
) -> None:
    assert list(programs.iterdir()) == []
    with pytest.raises(DeviceError, match=r"no file dialog on this computer\. Install zenity"):
        DesktopDevice(tmp_path).pick_file(lambda answer: None)


def test_a_report_is_opened_and_its_folder_shown(programs: Path, tmp_path: Path) -> None:
    report, log = tmp_path / "report.pdf", tmp_path / "log"
    report.write_bytes(b"%PDF-")
    os.mkfifo(log)
    program(programs, "xdg-open", f'echo "$1" > {log}')
    device = DesktopDevice(tmp_path)
    device.open_file(report)
    assert log.read_text().strip() == str(report)
    device.share(report)
    assert log.read_text().strip() == str(tmp_path)


def test_what_cannot_be_opened_says_where_it_lies(programs: Path, tmp_path: Path) -> None:
    device = DesktopDevice(tmp_path)
    report = tmp_path / "report.pdf"
    with pytest.raises(DeviceError, match=r"report\.pdf: is not there"):
        device.open_file(report)
    report.write_bytes(b"%PDF-")
    with pytest.raises(DeviceError, match=f"Open it by hand: {report}"):
        device.open_file(report)
    (programs / "xdg-open").write_bytes(b"\x7fELF no program")
    (programs / "xdg-open").chmod(0o700)
    with pytest.raises(DeviceError, match=r"could not be opened"):
        device.open_file(report)


def test_a_copy_is_kept_under_a_name_that_is_free_and_nothing_half_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("HOME", str(tmp_path))
    report = tmp_path / "data" / "report.pdf"
    report.parent.mkdir()
    report.write_bytes(b"%PDF-")
    device = DesktopDevice(report.parent)
    assert device.keep(report) == str(tmp_path / "report.pdf")
    downloads = tmp_path / "Downloads"
    downloads.mkdir()
    (downloads / "report.pdf").write_bytes(b"another")
    assert device.keep(report) == str(downloads / "report (2).pdf")
    assert (downloads / "report (2).pdf").read_bytes() == b"%PDF-"
    assert (downloads / "report.pdf").read_bytes() == b"another"
    with pytest.raises(DeviceError, match=r"gone\.pdf: could not be copied"):
        device.keep(report.with_name("gone.pdf"))
    assert not (downloads / "gone.pdf").exists()


def test_the_fake_keeps_its_clock_until_it_is_set(tmp_path: Path) -> None:
    device = FakeDevice(tmp_path)
    before = device.now()
    assert device.now() == before
    device.let_pass(timedelta(minutes=15))
    assert device.now() - before == timedelta(minutes=15)


def test_the_fake_gives_the_photo_that_was_laid_ready(tmp_path: Path) -> None:
    device, answers = FakeDevice(tmp_path), []
    device.photos.extend([b"picture", None])
    for _ in range(2):
        device.take_photo(tmp_path / "p.jpg", answers.append)
    assert answers == [tmp_path / "p.jpg", None]
    assert device.recover_photo(tmp_path / "p.jpg")
    with pytest.raises(DeviceError, match="no camera"):
        device.take_photo(tmp_path / "p.jpg", answers.append)
