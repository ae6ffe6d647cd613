"""The page that stands when the app cannot open its store."""

from typing import Any

from checks.errors import ChecksError
from fieldapp.screens.phrases import sentence
from fieldapp.widgets import Message, Page, Words


class TroublePage(Page):
    """What is wrong, where, and what to do."""

    def __init__(self, error: ChecksError, **kwargs: Any) -> None:
        super().__init__(title="It cannot open", has_back=False, **kwargs)
        text = f"{sentence(error.where).rstrip('.')}: {error.problem}."
        self.add_widget(Message(text=text))
        self.add_widget(Words(text=sentence(error.remedy), role="lead"))
        self.add_widget(Words(text="Nothing was changed. Your data is as it was saved."))
