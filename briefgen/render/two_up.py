"""Two pages of a brief on one sheet, side by side, to be folded in the middle: a copy for printing."""

from __future__ import annotations

import io
import re
from hashlib import sha256

from briefgen.errors import CannotPrint
from briefgen.render.paper import PAPERS, PT_PER_MM
from briefgen.render.proof import FAILED, read_back

SHEETS = {"half letter": "letter", "A5": "A4"}  # twice as wide, and as high: the sheet lies on its side
_DATE = re.compile(rb"/CreationDate\s*\(D:[0-9]{14}")
_ID = re.compile(rb"/ID\s*\[<([0-9A-F]{32})><([0-9A-F]{32})>\]")


def two_up(content: bytes, page_size: str) -> bytes:
    """Return a finished brief with two of its pages on each sheet, in their order; the same for the same brief.

    It carries no files, and is no archive: the brief itself is.

    Parameters
    ----------
    content : the PDF, proved.
    page_size : of its pages, one of `SHEETS`.

    Raises
    ------
    CannotPrint : the pages are of another size, or not every text of theirs is on its sheet.
    """
    import pypdfium2
    import pypdfium2.raw as pdfium

    if page_size not in SHEETS:
        sizes = " and ".join(SHEETS)
        raise CannotPrint(f"two pages to a sheet are for {sizes}; these are {page_size} (policy: page_size)")
    sheet = PAPERS[SHEETS[page_size]]
    source = pypdfium2.PdfDocument(content)
    when = str(source.get_metadata_value("CreationDate"))[2:16].encode()
    width_pt, height_pt = sheet.height_mm * PT_PER_MM, sheet.width_mm * PT_PER_MM
    made = pypdfium2.PdfDocument(pdfium.FPDF_ImportNPagesToOne(source, width_pt, height_pt, 2, 1))
    with io.BytesIO() as written:
        made.save(written)
        found = _DATE.sub(lambda _: b"/CreationDate(D:" + when, written.getvalue())
    made.close()
    source.close()
    found = _ID.sub(lambda _: _id_of(found), found)  # the library makes one up each time
    _prove(content, found)
    return found


def _id_of(content: bytes) -> bytes:
    """Return an identifier that hangs on the content alone, in place of the one in it."""
    digits = sha256(_ID.sub(b"", content)).hexdigest()[:32].upper().encode()
    return b"/ID[<" + digits + b"><" + digits + b">]"


def _prove(content: bytes, found: bytes) -> None:
    """Make sure that every word of two pages is on their sheet, and no other."""
    _, pages, _ = read_back(content)
    _, sheets, _ = read_back(found)
    pairs = [pages[i : i + 2] for i in range(0, len(pages), 2)]
    same = [
        sorted(" ".join(pair).split()) == sorted(sheet.split()) for pair, sheet in zip(pairs, sheets, strict=False)
    ]
    if len(pairs) != len(sheets) or not all(same):
        raise CannotPrint(f"two pages to a sheet: not every text came through, and nothing was written\n{FAILED}")
