"""Draw the picture of the sheet that the README shows. Run by `make golden`."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
from PIL import Image

from briefgen.pipeline import brief_of
from briefgen.render.pdf import to_pdf

ROOT = Path(__file__).resolve().parents[2]
LANDING = "Landing: "  # what the page beside the first one begins with
CLIP, GAP = 60, 20  # what the kneeboard's clip covers, and the space between the pages, in pixels


def main() -> None:
    """Write examples/brief.png."""
    trip = ROOT / "examples" / "quillmere" / "trip.yaml"
    document = pypdfium2.PdfDocument(to_pdf(brief_of(trip, "trip.yaml")))
    landing = next(page for page in document if page.get_textpage().get_text_range().startswith(LANDING))
    pages = [page.render(scale=96 / 72).to_pil().convert("L") for page in (document[0], landing)]
    width, height = pages[0].size
    picture = Image.new("L", (2 * width + 2 * GAP, height - CLIP + GAP), 235)
    for index, page in enumerate(pages):
        picture.paste(page.crop((0, CLIP, width, height)), (GAP // 2 + index * (width + GAP), GAP // 2))
    picture.quantize(16).save(ROOT / "examples" / "brief.png", optimize=True)


if __name__ == "__main__":
    main()
