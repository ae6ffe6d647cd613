"""What a key of the number pad does to the text typed so far; no toolkit."""

MINUS, POINT, BACK = "-", ".", "back"
MAX_DIGITS = 7
MAX_PLACES = 4


def pressed(text: str, key: str, *, places: int = MAX_PLACES, allow_minus: bool = False) -> str:
    """Text after one key; the same text when the key makes no sense there.

    Parameters
    ----------
    text : str
        Digits typed so far, a point for the decimal mark, perhaps a leading minus.
    key : str
        A digit, ``"."``, ``"-"`` (turns the sign) or ``"back"``.
    places : int
        Decimal places that make sense for the quantity. [count]
    allow_minus : bool
        Whether the quantity can be negative.

    Returns
    -------
    str
        Never more than `MAX_DIGITS` digits, never two points.
    """
    if key == BACK:
        return text[:-1]
    if key == MINUS:
        return _turned(text) if allow_minus else text
    sign, digits = (MINUS, text[1:]) if text.startswith(MINUS) else ("", text)
    whole, point, decimals = digits.partition(POINT)
    if key == POINT:
        return text if point or not places else f"{sign}{whole or '0'}{POINT}"
    if not (len(key) == 1 and key.isascii() and key.isdigit()):
        return text
    if len(whole + decimals) >= MAX_DIGITS or len(decimals) >= places > 0:
        return text
    if whole == "0" and not point:
        return f"{sign}{key}"
    return text + key


def _turned(text: str) -> str:
    return text.removeprefix(MINUS) if text.startswith(MINUS) else MINUS + text
