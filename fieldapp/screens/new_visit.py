"""The beginning of a visit: who makes it, and the form that was begun and not finished."""

from functools import partial

from fieldapp.screens.guide import Guide
from fieldapp.screens.screen import guarded
from fieldapp.screens.sheets import Sheet
from fieldapp.walk import forms


def begin(guide: Guide) -> None:
    """Go to the form; the technician's name comes first, and what becomes of a begun form."""
    desk = guide.desk
    if not desk.settings.technician.name.strip():
        guide.go("settings", "name")
        return
    begun = desk.form(forms.BEGIN).entry
    if not begun.answers:
        _start(guide)
        return
    site = forms.said(begun, "site")
    sheet = Sheet(
        "A visit was begun and not finished",
        words=(site,) if site else (),
        accept=("Go on with it", guarded(lambda: guide.go("form", forms.BEGIN.id))),
        decline=("Go back", None),
    )
    sheet.add_key("Start again", guarded(partial(_start, guide)))
    sheet.open()


def _start(guide: Guide) -> None:
    guide.desk.clear_form(forms.BEGIN)
    guide.desk.clear_form(forms.POINT)
    guide.go("form", forms.BEGIN.id)
