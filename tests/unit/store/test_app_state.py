"""Where the app was, and its settings."""

from pathlib import Path

import pytest

from fieldapp.store.app_state import AppState
from fieldapp.store.errors import DamagedError, InvalidRecordError


def test_there_is_no_state_at_first(tmp_path: Path) -> None:
    assert AppState(tmp_path / "app_state.json").load() == {}


def test_the_state_reads_back_the_same(tmp_path: Path) -> None:
    state = {"route": ["visit", "visit-1", "outlet"], "theme": "outdoor", "scroll": 0.5}
    AppState(tmp_path / "app_state.json").save(state)
    assert AppState(tmp_path / "app_state.json").load() == state


def test_a_damaged_state_is_named_and_set_aside_not_overwritten(tmp_path: Path) -> None:
    path = tmp_path / "app_state.json"
    path.write_bytes(b'{"theme": "outd')
    with pytest.raises(DamagedError, match="settings: the file ends too early"):
        AppState(path).load()
    AppState(path).save({"theme": "dark"})
    assert AppState(path).load() == {"theme": "dark"}
    (aside,) = tmp_path.glob("app_state.damaged.*.json")
    assert aside.read_bytes() == b'{"theme": "outd'


def test_a_state_that_cannot_be_read_is_damaged(tmp_path: Path) -> None:
    (tmp_path / "app_state.json").mkdir()
    with pytest.raises(DamagedError, match=r"cannot be read .is a directory"):
        AppState(tmp_path / "app_state.json").load()


def test_a_state_that_json_cannot_carry_leaves_the_old_one(tmp_path: Path) -> None:
    state = AppState(tmp_path / "app_state.json")
    state.save({"theme": "dark"})
    with pytest.raises(InvalidRecordError, match="settings: cannot be written as JSON"):
        state.save({"theme": {1, 2}})
    assert state.load() == {"theme": "dark"}
