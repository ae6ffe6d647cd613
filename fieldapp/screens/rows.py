"""A row that stands on a page among other things, as high as its words."""

from typing import Any

from fieldapp.screens.screen import load_kv
from fieldapp.widgets import ListRow

load_kv(__file__)


class StandingRow(ListRow):
    """The kit's list row outside of a list; ``chosen(key)`` is called when it is pressed."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(**kwargs)
        self.on_sign()
