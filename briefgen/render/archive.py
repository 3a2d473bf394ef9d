"""What a PDF carries for its filing: the files that it was worked from, and its figures as data."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from mimetypes import add_type
from pathlib import PurePosixPath
from typing import Any

from briefgen.brief import Brief
from briefgen.model.given import Given

RESULT = "brief.json"  # the figures; no file that a trip is read from ends so
DATA, SOURCE = "Data", "Source"  # what an attachment is to the sheet: ISO 32000-2, 7.11.3
# PDF/A asks for a description of every property that it does not know, and the mark of PDF/UA is one.
_UA = b"""<rdf:Description rdf:about="" xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/" pdfuaid:part="1"/>
<rdf:Description rdf:about="" xmlns:pdfaExtension="http://www.aiim.org/pdfa/ns/extension/"
 xmlns:pdfaSchema="http://www.aiim.org/pdfa/ns/schema#" xmlns:pdfaProperty="http://www.aiim.org/pdfa/ns/property#">
<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType="Resource">
<pdfaSchema:schema>universal accessibility</pdfaSchema:schema>
<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>
<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>
<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType="Resource">
<pdfaProperty:name>part</pdfaProperty:name>
<pdfaProperty:valueType>Integer</pdfaProperty:valueType>
<pdfaProperty:category>internal</pdfaProperty:category>
<pdfaProperty:description>which part of ISO 14289 the document follows</pdfaProperty:description>
</rdf:li></rdf:Seq></pdfaSchema:property>
</rdf:li></rdf:Bag></pdfaExtension:schemas>
</rdf:Description>
</rdf:RDF>"""


def carried(brief: Brief) -> tuple[Given, ...]:
    """Return what the PDF of a Brief carries, by name: its figures, and the files that they were worked from."""
    from briefgen.render.data import to_json

    return tuple(sorted((*brief.trip.files, Given(RESULT, to_json(brief).encode()))))


def attachments(files: Sequence[Given], at: str) -> list[Any]:
    """Return files as the PDF library attaches them, all dated `at`, so that the same files give the same bytes."""
    from weasyprint import Attachment

    add_type("application/yaml", ".yaml")
    add_type("application/yaml", ".yml")
    when = datetime.fromisoformat(at)
    return [
        Attachment(
            string=each.content,
            name=each.name,
            relationship=DATA if each.name == RESULT else SOURCE,
            created=when,
            modified=when,
        )
        for each in files
    ]


def finish(_: object, pdf: Any) -> None:
    """Mark a PDF as one of PDF/UA-1 too, which the library does only in place of PDF/A; name each file once."""
    number = int(pdf.catalog["Metadata"].split()[0])
    metadata = pdf.objects[number]
    metadata.stream = [each.replace(b"</rdf:RDF>", _UA) for each in metadata.stream]
    if "AF" in pdf.catalog:
        pdf.catalog["AF"][:] = dict.fromkeys(pdf.catalog["AF"])


def taken_out(content: bytes) -> Mapping[str, bytes]:
    """Return the files that a PDF carries, by their names; none where it carries none, or is no PDF."""
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(content)
    except pypdfium2.PdfiumError:
        return {}
    try:
        found = [document.get_attachment(i) for i in range(document.count_attachments())]
        return {each.get_name(): bytes(each.get_data()) for each in found}
    finally:
        document.close()


def inside(name: str) -> bool:
    """Say whether a name of a carried file stays inside the folder that it is unpacked into."""
    path = PurePosixPath(name)
    plain = not any(each in name for each in "\\:\0")
    return plain and bool(path.parts) and not path.is_absolute() and ".." not in path.parts
