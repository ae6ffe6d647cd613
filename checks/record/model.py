"""The base of every recorded model, and the kinds of text it may hold."""

import re
from datetime import datetime
from typing import Annotated, Final

from pydantic import AfterValidator, BaseModel, ConfigDict, StringConstraints


class Record(BaseModel):
    """Strict, frozen, nothing extra, no NaN."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)


def _moment(text: str) -> str:
    datetime.fromisoformat(text)
    return text


TEXT_MOST: Final = 2000
# No control characters but a newline: a record travels into databases and onto pages.
_CONTROL: Final = r"\x00-\x09\x0b-\x1f\x7f"
Text = Annotated[str, StringConstraints(max_length=TEXT_MOST, pattern=rf"^[^{_CONTROL}]*$")]
_LINE_END: Final = re.compile("\r\n|[\r\x0b\x0c\x85\u2028\u2029]")
_NO_TEXT: Final = re.compile(f"[{_CONTROL}\ud800-\udfff]")  # nor half a character
Code = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_.-]{0,63}$")]
Timestamp = Annotated[
    str,
    StringConstraints(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$"),
    AfterValidator(_moment),
]
Day = Annotated[str, StringConstraints(pattern=r"^\d{4}-\d\d-\d\d$"), AfterValidator(_moment)]
PhotoName = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}\.(jpg|png)$")]


def as_text(typed: str) -> str:
    r"""Return typed or pasted words as `Text` may hold them, however long they are.

    Every line end becomes a newline and a tab a space; other control characters go.

    Examples
    --------
    >>> as_text("Panel\tA\r\nBay\x00 2")
    'Panel A\nBay 2'
    """
    return _NO_TEXT.sub("", _LINE_END.sub("\n", typed).replace("\t", " "))
