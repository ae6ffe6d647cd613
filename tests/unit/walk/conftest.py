"""Walks that are killed after every step, closed again after the test."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.builders import visit
from tests.unit.walk.reopened import Reopened, Walks


@pytest.fixture
def walks(tmp_path: Path) -> Iterator[Walks]:
    opened: list[Reopened] = []

    def start(**over: Any) -> Reopened:
        opened.append(Reopened(tmp_path / str(len(opened)), visit(**over)))
        return opened[-1]

    yield start
    for each in opened:
        each.close()
