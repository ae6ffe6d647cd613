"""What a library raises on a hostile file is a clear refusal, not a crash."""

import pytest

from fieldapp.report.contents import read_contents
from fieldapp.report.errors import UnreadableError
from fieldapp.report.signature import read_signature


def test_a_list_of_objects_packed_as_no_report_s_is_unreadable(signed: bytes) -> None:
    # A name may be written with its codes: ISO 32000-1, 7.3.5; `/X#52ef` is `/XRef`.
    listed = b"<</Type /X#52ef /Size 1 /W [1 1 1] /Filter /JBIG2Decode /Length 3>>"
    pdf = b"%PDF-1.7\n1 0 obj\n" + listed + b"stream\nabc\nendstream\nendobj\nstartxref\n9\n%%EOF\n"
    with pytest.raises(UnreadableError, match="its inside cannot be read") as refused:
        read_contents(pdf, read_signature(signed))
    assert isinstance(refused.value.__cause__, NotImplementedError)
