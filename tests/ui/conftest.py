"""Fixtures that give a running app at a size, and take it away."""

from collections.abc import Callable, Iterator
from contextlib import nullcontext

import pytest

from fieldapp.widgets import theme
from tests.ui.driver import SIZES, App, Ui, window


@pytest.fixture
def ui(request: pytest.FixtureRequest) -> Iterator[Callable[[App], Ui]]:
    """Runs an app and closes it after the test; what went wrong inside Kivy fails the test."""
    running: list[Ui] = []

    def run(app: App) -> Ui:
        running.append(Ui(app))
        return running[-1]

    with nullcontext() if "size" in request.fixturenames else window(SIZES["phone"]):
        yield run
        for driver in running:
            driver.close()
        theme.name, theme.text_scale = "day", 1.0
    errors = [error for driver in running for error in driver.caught.seen]
    assert not errors, errors


@pytest.fixture(params=SIZES)
def size(request: pytest.FixtureRequest) -> Iterator[str]:
    """Name of each screen size in turn."""
    with window(SIZES[request.param]):
        yield request.param
