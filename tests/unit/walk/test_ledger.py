"""The ledger: what the first screen needs, whatever stands in the small file beside the visits."""

from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest

from fieldapp.store.errors import DamagedError
from fieldapp.store.visits import Store
from fieldapp.walk.desk import Desk
from fieldapp.walk.ledger import Ledger, Look, Position

NOW = datetime(2025, 6, 2, 12, 0, tzinfo=UTC)


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    with Store(tmp_path) as opened:
        yield opened


def ledger(store: Store) -> Ledger:
    return Ledger(store, lambda: NOW)


def test_it_looks_as_the_settings_say_before_anybody_reads_them_whole(store: Store):
    assert ledger(store).look == Look()
    Desk(ledger(store)).set(theme="outdoor", text_scale=1.3, language="fr")
    assert ledger(store).look == Look("outdoor", 1.3, "fr")


@pytest.mark.parametrize(
    "kept",
    [
        {"settings": {"theme": "pink", "text_scale": "large", "language": "tlh"}},
        {"settings": {"theme": ["day"], "text_scale": 40, "language": None}},
        {"settings": {"text_scale": float(0)}},
        {"settings": "day", "position": 3, "forms": []},
    ],
)
def test_what_is_no_look_is_the_usual_one(store: Store, kept: dict[str, Any]):
    store.app_state.save(kept)
    assert (ledger(store).look, ledger(store).position) == (Look(), Position())


def test_where_the_app_was_and_what_the_desk_keeps_stand_beside_each_other(store: Store):
    ledger(store).go("check", "visit-1", "run.length")
    Desk(ledger(store)).set(theme="night")
    again = ledger(store)
    assert (again.position, again.look.theme) == (
        Position("check", "visit-1", "run.length"),
        "night",
    )


def test_settings_that_cannot_be_are_refused_by_name_and_kept_beside_the_new_ones(
    store: Store, tmp_path: Path
):
    store.app_state.save({"settings": {"text_scale": 40, "theme": "night"}})
    opened = ledger(store)
    with pytest.raises(DamagedError, match="these cannot be used: text size"):
        Desk(opened)
    opened.set_settings_aside()
    assert Desk(opened).settings.theme == "day"
    (aside,) = tmp_path.glob("app_state.damaged.*.json")
    assert '"night"' in aside.read_text()
