"""What can go wrong around the report and its key, in words for the technician."""

from checks.errors import ChecksError


class ReportError(ChecksError):
    """The root of every error of the report."""


class PinError(ReportError):
    """A PIN that is not fit to guard a key, or that does not open it."""


class SigningKeyError(ReportError):
    """The signing key is missing, damaged, or there already."""


class CertificateError(ReportError):
    """A certificate that cannot be read."""


class UnreadableError(ReportError):
    """A file that is no whole report, so that nothing can be said about it."""


class AlteredError(ReportError):
    """A report that is not, byte for byte, what was signed."""
