"""What the walk refuses, in words for people."""

from checks.errors import ChecksError


class WalkError(ChecksError):
    """A step that the walk does not allow here."""
