"""The kit of widgets that screens are made of, and the theme they follow.

Here belongs what any screen may use; not what a screen means. Importing it loads the rules in
the ``.kv`` files once.
"""

from pathlib import Path

from kivy.lang import Builder

from fieldapp.widgets.choices import ChoiceList, Option, YesNo
from fieldapp.widgets.entry import TextEntry
from fieldapp.widgets.key_row import Actions, Flanked, KeyRow
from fieldapp.widgets.keys import on_key_down
from fieldapp.widgets.number_pad import NumberPad, PadKey, ValueDisplay
from fieldapp.widgets.page import Body, Dock, Glance, Page, PageHeader, PageScroll, Readout, Stack
from fieldapp.widgets.rows import MESSAGE, ListRow, RowList, WorkBar
from fieldapp.widgets.scene_view import SceneView
from fieldapp.widgets.sheets import CautionSheet, UndoBar
from fieldapp.widgets.signature_pad import SignaturePad
from fieldapp.widgets.slab import (
    Card,
    DangerButton,
    IconButton,
    KeyButton,
    Pressable,
    PrimaryButton,
    SecondaryButton,
    Slab,
)
from fieldapp.widgets.theming import Theme, theme
from fieldapp.widgets.words import Message, SeverityBanner, VerdictTag, Words

for _rules in sorted(Path(__file__).parent.glob("*.kv")):
    Builder.load_file(str(_rules))

__all__ = [
    "MESSAGE",
    "Actions",
    "Body",
    "Card",
    "CautionSheet",
    "ChoiceList",
    "DangerButton",
    "Dock",
    "Flanked",
    "Glance",
    "IconButton",
    "KeyButton",
    "KeyRow",
    "ListRow",
    "Message",
    "NumberPad",
    "Option",
    "PadKey",
    "Page",
    "PageHeader",
    "PageScroll",
    "Pressable",
    "PrimaryButton",
    "Readout",
    "RowList",
    "SceneView",
    "SecondaryButton",
    "SeverityBanner",
    "SignaturePad",
    "Slab",
    "Stack",
    "TextEntry",
    "Theme",
    "UndoBar",
    "ValueDisplay",
    "VerdictTag",
    "Words",
    "WorkBar",
    "YesNo",
    "on_key_down",
    "theme",
]
