"""Build every sheet of the gallery, look it over by program, and show small pictures of all pages. `make gallery`.

Ends with status 1 where a sheet has a fault.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from html import escape
from pathlib import Path

import pypdfium2
from page_faults import Told, look_over
from stress import GALLERY, ROOT, make_trip

from briefgen.errors import CannotPrint
from briefgen.pipeline import brief_of
from briefgen.render.pdf import to_pdf
from briefgen.render.sheet import to_html

OUT = ROOT / "build" / "gallery"
SMALL = 0.35  # points of a small picture to one of the page
SHOWN = 12  # faults of one sheet that are printed
HEAD = """<!DOCTYPE html>
<html lang="en"><meta charset="utf-8"><title>Gallery</title>
<style>body { font: 14px sans-serif; } img { border: 1px solid #888; margin: 3px; } .fault { color: #b00; }</style>
"""


def main(names: list[str]) -> int:
    """Build the named sheets, or all, and return 1 where one has a fault."""
    OUT.mkdir(parents=True, exist_ok=True)
    chosen = names or list(GALLERY)
    told = {}
    with ProcessPoolExecutor(2) as pool:
        for name, found in zip(chosen, pool.map(build, chosen), strict=True):
            told[name] = found
            print(f"{name}: {len(found.faults)} faults; {'; '.join(found.remarks)}", flush=True)
            for fault in found.faults[:SHOWN]:
                print(f"  {fault}", flush=True)
    (OUT / "index.html").write_text(HEAD + "".join(_shown(told)), encoding="utf-8")
    print(OUT / "index.html")
    return int(any(found.faults for found in told.values()))


def build(name: str) -> Told:
    """Build one sheet and its small pictures, and return what is wrong with it."""
    file = OUT / f"{_plain(name)}.pdf"
    with tempfile.TemporaryDirectory() as folder:
        trip = make_trip(name, Path(folder))
        brief = brief_of(trip, trip.name)
        try:
            content = to_pdf(brief)
        except CannotPrint as failed:
            return Told([str(failed)], [])
    file.write_bytes(content)
    document = pypdfium2.PdfDocument(content)
    for number, page in enumerate(document, 1):
        page.render(scale=SMALL, grayscale=True).to_pil().save(file.with_name(f"{file.stem}-{number:02}.png"))
    document.close()
    return look_over(content, to_html(brief, for_screen=False), brief.page_size)


def _shown(told: dict[str, Told]) -> Iterator[str]:
    for name, found in told.items():
        file = OUT / f"{_plain(name)}.pdf"
        yield f'<h2><a href="{file.name}">{escape(name)}</a></h2>\n'
        yield "".join(f'<p class="fault">{escape(fault)}</p>\n' for fault in found.faults)
        yield "".join(f"<p>{escape(remark)}</p>\n" for remark in found.remarks)
        pictures = sorted(OUT.glob(f"{file.stem}-[0-9][0-9].png"))
        yield "".join(
            f'<a href="{file.name}#page={i}"><img src="{each.name}" alt="page {i}"></a>\n'
            for i, each in enumerate(pictures, 1)
        )


def _plain(name: str) -> str:
    return name.removesuffix(".yaml").replace(" ", "-")


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
