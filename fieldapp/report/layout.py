"""Measures of the page, in points from its top left corner; the signature's from its bottom."""

from typing import Final

PAGE: Final = (612.0, 792.0)  # US Letter
LEFT, RIGHT, TOP, BOTTOM = 56.0, 576.0, 50.0, 732.0
WIDTH: Final = RIGHT - LEFT
SPINE: Final = 36.0  # the conductor that runs down every page
FOOT: Final = 744.0

# The signature block fills the end of the last page, so that the field's place is known. Beside the
# technician's pad, which is the field, lies the witness's.
SIGNATURE_TOP: Final = 440.0
_PAD_TOP, _PAD_HEIGHT, _PAD_WIDTH = SIGNATURE_TOP + 42, 96, 250
PAD: Final = (LEFT, float(_PAD_TOP), float(_PAD_WIDTH), float(_PAD_HEIGHT))
WITNESS_PAD: Final = (RIGHT - _PAD_WIDTH, *PAD[1:])
# Left, bottom, right, top as PDF counts them. [pt]
SIGNATURE_BOX: Final = (
    int(LEFT),
    int(PAGE[1] - _PAD_TOP - _PAD_HEIGHT),
    int(LEFT + _PAD_WIDTH),
    int(PAGE[1] - _PAD_TOP),
)
