"""The file's metadata: XMP with the PDF/A mark, from the given time only."""

from datetime import UTC, datetime
from xml.sax.saxutils import escape

_XMP = """<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about=""
 xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdfaid="http://www.aiim.org/pdfa/ns/id/">
<pdfaid:part>3</pdfaid:part>
<pdfaid:conformance>B</pdfaid:conformance>
<dc:title><rdf:Alt><rdf:li xml:lang="x-default">{title}</rdf:li></rdf:Alt></dc:title>
<xmp:CreatorTool>fieldapp {software}</xmp:CreatorTool>
<xmp:CreateDate>{at}</xmp:CreateDate>
<xmp:ModifyDate>{at}</xmp:ModifyDate>
<xmp:MetadataDate>{at}</xmp:MetadataDate>
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>"""


def xmp(title: str, software: str, at: datetime) -> str:
    """Return the XMP packet's content.

    References
    ----------
    ISO 19005-3:2012, 6.6 (from memory).
    """
    moment = at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    return _XMP.format(title=escape(title), software=escape(software), at=moment)
