"""What stands half done and cannot be read: set aside whole, so that the visit still opens."""

from collections.abc import Callable
from typing import Any, Final

from checks.intake import BY_ID
from checks.record import Entry
from fieldapp.walk.drafts import Draft, draft_of, taken_of
from fieldapp.walk.questions import Questions

# as `draft_of` has them
_OPEN: Final = ("schema_version", "entry", "typed", "passed", "at", "outlasts")
_HEAD: Final = ("number", "check", "subject", "at", "danger")


def sifted(draft: Draft, read: Callable[[Draft], object]) -> tuple[Draft, tuple[Draft, ...]]:
    """Return what can be read of a visit's draft, and the parts that cannot be, whole.

    Of a check in which a danger was answered that much stays, without its answers.

    Parameters
    ----------
    draft : dict
        As it is on disk.
    read : callable
        Reads a check that is half made; whatever it raises, that one cannot be read.
    """
    kept = {name: part for name, part in draft.items() if name not in (*_OPEN, "left", "taken")}
    begun: Draft = {name: draft[name] for name in _OPEN if name in draft}
    aside: list[Draft] = []
    kept["aside"] = [part for _, part in _items(draft, "aside", aside)]  # of earlier times
    open_now = _readable(begun, read, aside) if begun else None
    left = {key: _readable(part, read, aside) for key, part in _items(draft, "left", aside)}
    taken = [part for _, part in _items(draft, "taken", aside) if _reads(taken_of, part)]
    aside += [part for _, part in _items(draft, "taken", []) if part not in taken]
    kept |= {"left": {key: part for key, part in left.items() if part}, "taken": taken}
    return kept | (open_now or {}), tuple(aside)


def _items(draft: Draft, name: str, aside: list[Draft]) -> list[tuple[str, Any]]:
    """Return what stands under a name, with its keys; what is no such list goes aside."""
    found = draft.get(name, {})
    if isinstance(found, dict):
        return list(found.items())
    if isinstance(found, list):
        return [(str(place), part) for place, part in enumerate(found)]
    aside.append({name: found})
    return []


def _readable(part: Draft, read: Callable[[Draft], object], aside: list[Draft]) -> Draft | None:
    """Return a half-made check, or what must stand of it once it is set aside."""
    if _reads(read, part):
        return part
    aside.append(part)
    danger = _danger_alone(part)
    return danger if danger is not None and _reads(read, danger) else None


def _reads(read: Callable[[Draft], object], part: Draft) -> bool:
    try:
        read(part)
    except Exception:  # noqa: BLE001 - whatever stands half made keeps nobody out of the visit
        return False
    return True


def _danger_alone(draft: Draft) -> Draft | None:
    """Return a half-made check with nothing but that a danger was answered there, if one was."""
    try:
        entry = Entry.model_validate({name: draft["entry"][name] for name in _HEAD}, strict=False)
    except (ValueError, KeyError, TypeError):
        return None
    if entry.danger is None or entry.check not in BY_ID:
        return None
    return draft_of(Questions(BY_ID[entry.check], entry))


def title_of(draft: Draft) -> str:
    """Name the check that a draft is of, readable or not."""
    entry = draft.get("entry") if isinstance(draft, dict) else None
    check = str(entry.get("check")) if isinstance(entry, dict) else ""
    return BY_ID[check].title if check in BY_ID else "a check"
