"""Fixtures that give a running app at a size, and take it away."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager, nullcontext
from pathlib import Path

import pytest

from fieldapp.app import FieldApp
from tests.fakes.device import FakeDevice
from tests.gallery.states import stage
from tests.ui.driver import App, Ui
from tests.ui.loop import SIZES, keep_loaded, start_loop, window

Running = Callable[[App], Ui]


@pytest.fixture(scope="module", autouse=True)
def _kept() -> None:
    """Let no collection look at what the tests of other modules loaded."""
    start_loop()
    keep_loaded()


@contextmanager
def _closed_again(size: AbstractContextManager[None]) -> Iterator[Running]:
    """Runs apps and closes them after the test; what went wrong inside Kivy fails the test."""
    running: list[Ui] = []

    def run(app: App) -> Ui:
        running.append(Ui(app))
        return running[-1]

    with size:
        yield run
        for driver in running:
            driver.close()
    errors = [error for driver in running for error in driver.caught.seen]
    assert not errors, errors


@pytest.fixture
def ui(request: pytest.FixtureRequest) -> Iterator[Running]:
    """Runs an app on the phone, or at the size that the test is given."""
    is_sized = "size" in request.fixturenames
    with _closed_again(nullcontext() if is_sized else window(SIZES["phone"])) as run:
        yield run


@pytest.fixture(params=SIZES)
def size(request: pytest.FixtureRequest) -> Iterator[str]:
    """Name of each screen size in turn."""
    with window(SIZES[request.param]):
        yield request.param


@pytest.fixture
def come_up(tmp_path: Path) -> Iterator[Callable[[str], Ui]]:
    """Brings the app up on the small phone, in one of the gallery's states."""
    with _closed_again(window(SIZES["small"])) as run:

        def up(state: str = "") -> Ui:
            if state:
                stage(state, tmp_path)
            driver = run(FieldApp(tmp_path, FakeDevice(tmp_path)))
            driver.settle()
            return driver

        yield up
