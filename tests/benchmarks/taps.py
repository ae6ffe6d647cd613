"""Taps of a visit, counted from the walks by touch: ``python -m tests.benchmarks.taps`` shows them.

Wrong turns, slips, cautions and the taking of a number count; digits and written words do not. The
aim is two taps a check. A check asks three or four things, and each is answered by a tap of its
own, for nothing is answered in bulk or beforehand: the aim cannot be met for a check as declared.
It is held for each thing that is asked, with a little room for the wrong turns.
"""

import sys
from collections import Counter
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Final

from tests.ui.hand import Hand

MOST: Final = 1.8  # taps for each thing that is asked, wrong turns included
FREE: Final = frozenset({"digits", "words"})


def kind(touched: str) -> str:
    """What a touch was for, by the kind and the words of what was touched."""
    widget, _, words = touched.partition(" ")
    words = words.strip("'\"")
    if widget == "PadKey" or words == "±":
        return "digits"
    if widget in ("TextInput", "TextEntry"):
        return "words"
    if widget == "Option":
        return "answers"
    if words.startswith(("Take ", "Add ")):
        return "numbers taken"
    if words in ("Understood", "Read and understood") or "people are away" in words:
        return "cautions"
    if words in ("Pass over", "There is none", "End measuring"):
        return "passed over"
    return "ways on"


def counted(hand: Hand) -> Counter[str]:
    """The taps of a walk from the path of a new visit on."""
    return Counter(kind(touched) for touched in hand.ui.taps)


def hold_to_aim(visit: str, hand: Hand) -> None:
    """Print what a walk cost, and hold it to the aim."""
    found = counted(hand)
    made = [e for e in hand.walk.visit.entries if e.not_done is None]
    asked = sum(len(e.answers) for e in made)
    taps = sum(n for what, n in found.items() if what not in FREE)
    told = ", ".join(f"{n} {what}" for what, n in found.most_common())
    print(
        f"{visit}: {len(made)} checks, {asked} answers, {taps} taps ({told}); "
        f"{taps / len(made):.2f} a check, {taps / asked:.2f} an answer"
    )
    assert taps / asked <= MOST


def main() -> None:
    """Walk the three visits and print what each cost."""
    from tests.ui import test_walk_commissioning, test_walk_service_call, test_walk_site_record

    commission = (
        test_walk_commissioning.test_a_commissioning_visit_is_walked_by_touch_to_its_signed_report
    )
    record = test_walk_site_record.test_a_site_record_by_an_inspector_comes_to_its_signed_report
    call = test_walk_service_call.test_a_call_is_followed_from_symptom_to_the_signed_report
    names = ("name", "suspects", "symptom", "words")
    walks = [
        commission,
        record,
        *(
            partial(call, **dict(zip(names, c.values, strict=True)))
            for c in test_walk_service_call.CALLS
        ),
    ]
    for walk in walks:
        with TemporaryDirectory() as folder:
            walk(tmp_path=Path(folder))
        sys.stdout.flush()


if __name__ == "__main__":
    main()
