"""The base of every recorded model, and the kinds of text it may hold."""

from datetime import datetime
from typing import Annotated

from pydantic import AfterValidator, BaseModel, ConfigDict, StringConstraints


class Record(BaseModel):
    """Strict, frozen, nothing extra, no NaN."""

    model_config = ConfigDict(strict=True, frozen=True, extra="forbid", allow_inf_nan=False)


def _moment(text: str) -> str:
    datetime.fromisoformat(text)
    return text


# No control characters but a newline: a record travels into databases and onto pages.
Text = Annotated[str, StringConstraints(max_length=2000, pattern=r"^[^\x00-\x09\x0b-\x1f\x7f]*$")]
Code = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9_.-]{0,63}$")]
Timestamp = Annotated[
    str,
    StringConstraints(pattern=r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(Z|[+-]\d\d:\d\d)$"),
    AfterValidator(_moment),
]
Day = Annotated[str, StringConstraints(pattern=r"^\d{4}-\d\d-\d\d$"), AfterValidator(_moment)]
PhotoName = Annotated[str, StringConstraints(pattern=r"^[0-9a-f]{64}\.(jpg|png)$")]
