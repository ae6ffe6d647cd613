"""PDF/A-3: ISO 19005-3:2012 (clauses from memory), and the documents that the file carries."""

import io
import json
from collections.abc import Iterator

import rfc8785
from pypdf import PdfReader
from pypdf.generic import DictionaryObject

from checks.assess import Assessment
from checks.record import Visit
from fieldapp.report.embedded import canonical, document


def test_the_metadata_claims_pdf_a_3b(reader: PdfReader) -> None:
    packet = reader.root_object["/Metadata"].get_data().decode()  # 6.6.4
    assert "<pdfaid:part>3</pdfaid:part>" in packet
    assert "<pdfaid:conformance>B</pdfaid:conformance>" in packet
    assert "2026-03-05T00:40:00Z" in packet  # the time given, in UTC
    assert "/Info" not in reader.trailer  # nothing that could differ from the XMP packet


def test_an_output_intent_with_a_profile_is_there(reader: PdfReader) -> None:
    (intent,) = reader.root_object["/OutputIntents"]  # 6.2.3
    assert intent["/S"] == "/GTS_PDFA1"
    profile = intent["/DestOutputProfile"].get_object()
    assert profile["/N"] == 3
    assert profile.get_data()[36:40] == b"acsp"  # ICC.1:2010, 7.2, signature of a profile


def fonts_of(reader: PdfReader) -> Iterator[DictionaryObject]:
    for page in reader.pages:
        for font in page["/Resources"]["/Font"].values():
            yield font.get_object()


def test_every_font_is_embedded_and_maps_to_unicode(reader: PdfReader) -> None:
    fonts = list(fonts_of(reader))  # 6.2.11.4
    assert fonts
    for font in fonts:
        (descendant,) = font["/DescendantFonts"]
        assert "/FontFile2" in descendant.get_object()["/FontDescriptor"]
        assert "/ToUnicode" in font


def test_record_and_assessment_are_associated_files_with_their_relationship(
    reader: PdfReader, visit: Visit, assessment: Assessment
) -> None:
    specs = {s.get_object()["/UF"]: s.get_object() for s in reader.root_object["/AF"]}  # 6.8
    assert set(specs) == {"record.json", "assessment.json"}
    assert specs["record.json"]["/AFRelationship"] == "/Source"
    assert specs["assessment.json"]["/AFRelationship"] == "/Data"
    for spec in specs.values():
        stream = spec["/EF"]["/F"].get_object()
        assert stream["/Subtype"] == "/application/json"
        assert "/ModDate" in stream["/Params"]
    assert reader.attachments["record.json"][0] == rfc8785.dumps(document(visit))
    assert reader.attachments["assessment.json"][0] == rfc8785.dumps(document(assessment))


def test_nothing_that_pdf_a_forbids_is_in_the_file(unsigned: bytes, reader: PdfReader) -> None:
    for forbidden in (b"/JavaScript", b"/Launch", b"/Encrypt", b"/LZWDecode", b"/SMask"):
        assert forbidden not in unsigned
    assert "/ID" in reader.trailer
    assert unsigned.startswith(b"%PDF-1.7")


def test_the_record_reads_back_as_it_was(unsigned: bytes, visit: Visit) -> None:
    data = PdfReader(io.BytesIO(unsigned)).attachments["record.json"][0]
    assert Visit.model_validate_json(data) == visit
    assert canonical(json.loads(data)) == data
