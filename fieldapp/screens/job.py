"""Long work off the drawing thread, with progress and a way to cancel it. No toolkit in here."""

import threading
from collections.abc import Callable
from typing import Generic, TypeVar

T = TypeVar("T")
Post = Callable[[Callable[[], None]], None]
Report = Callable[[float, str], None]


class Cancelled(Exception):  # noqa: N818 - what happened, not what went wrong
    """The person took the work back."""


class Job(Generic[T]):
    """One piece of work in a thread of its own.

    Parameters
    ----------
    work : callable
        Gets ``report``, which it calls with a share from 0 to 1 and a few words.
    post : callable
        Runs a callable on the drawing thread; safe to call from any thread.
    progress, done, failed, cancelled : callable
        Called on the drawing thread.
    """

    def __init__(
        self,
        work: Callable[[Report], T],
        post: Post,
        *,
        progress: Report,
        done: Callable[[T], None],
        failed: Callable[[Exception], None],
        cancelled: Callable[[], None],
    ) -> None:
        self._work, self._post = work, post
        self._progress, self._done = progress, done
        self._failed, self._cancelled = failed, cancelled
        self._stop = threading.Event()
        self._lock = threading.Lock()
        self._latest: tuple[float, str] | None = None
        self.thread = threading.Thread(target=self._run, name="job", daemon=True)

    def start(self) -> None:
        """Begin."""
        self.thread.start()

    def cancel(self) -> None:
        """Ask it to stop at its next report."""
        self._stop.set()

    def _report(self, share: float, words: str) -> None:
        if self._stop.is_set():
            raise Cancelled
        with self._lock:
            is_first, self._latest = self._latest is None, (share, words)
        if is_first:  # a thousand reports between two frames cost one repaint
            self._post(self._show)

    def _show(self) -> None:
        with self._lock:
            latest, self._latest = self._latest, None
        if latest is not None:
            self._progress(*latest)

    def _run(self) -> None:
        try:
            result = self._work(self._report)
        except Cancelled:
            self._post(self._cancelled)
        except Exception as error:  # noqa: BLE001 - whatever happened in a thread must reach a person
            problem = error
            self._post(lambda: self._failed(problem))
        else:
            self._post(lambda: self._done(result))
