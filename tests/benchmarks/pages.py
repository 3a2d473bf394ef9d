"""Print what the pages to fly by cost: our PDF against the library alone, and our layout against nested flex boxes.

Nothing is asserted. Run by `make bench`. The same content is laid out twice: as it is, and with each table as a
column of flex rows of flex cells, which is how a page is often built. A column in each cell, too, takes minutes.
"""

from __future__ import annotations

import re
import shutil
import statistics
import tempfile
import warnings
from pathlib import Path

import weasyprint
from run import TRIP, _clock, _ratio
from weasyprint.text.fonts import FontConfiguration

from briefgen.brief import Brief
from briefgen.pipeline import brief_of
from briefgen.render.archive import attachments, carried, finish
from briefgen.render.pdf import to_pdf
from briefgen.render.sheet import to_html

PAGES = "pages: [takeoff, landing, route, load]"  # after the items and cautions
ROUNDS = 5
FLEX_ROUNDS = 3
FLEX = """
.x-column { display: flex; flex-direction: column; width: 100%; }
.x-row { display: flex; flex-direction: row; width: 100%; }
.x-cell { flex: 1 1 0; min-width: 0; }
"""


def main() -> None:
    """Print both ratios."""
    brief = _short_brief()
    html = to_html(brief, for_screen=False)
    fonts = FontConfiguration()
    _alone(html, fonts, brief)
    pairs = [(_clock(lambda: to_pdf(brief)), _clock(lambda: _alone(html, fonts, brief))) for _ in range(ROUNDS)]
    _ratio("PDF of the first parts with its proof, warm", pairs, "WeasyPrint alone on the same HTML", 1.2)
    nested = as_flex(html)
    pairs = [
        (_clock(lambda: _alone(nested, fonts, brief)), _clock(lambda: _alone(html, fonts, brief)))
        for _ in range(FLEX_ROUNDS)
    ]
    slower = statistics.median(a / b for a, b in pairs)
    print(f"the same content as nested flex boxes: {slower:.2f} times as long as our tables, wanted at least 2")


def _short_brief() -> Brief:
    """Return the example with the first of its parts alone."""
    with tempfile.TemporaryDirectory() as folder:
        club = Path(shutil.copytree(TRIP.parent, Path(folder) / "club"))
        with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
            policy.write(f"\n{PAGES}\n")
        return brief_of(club / TRIP.name, TRIP.name)


def _alone(html: str, fonts: FontConfiguration, brief: Brief) -> bytes:
    """Return the PDF as the library makes it with the options of ours, without our fetcher or proof."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ResourceWarning)
        content: bytes = weasyprint.HTML(string=html).write_pdf(
            font_config=fonts,
            pdf_variant="pdf/a-3a",
            attachments=attachments(carried(brief), brief.prepared),
            finisher=finish,
        )
    return content


def as_flex(html: str) -> str:
    """Return a sheet with flex boxes for its tables: rows in a column, cells in rows."""
    html = re.sub(r"<colgroup>.*?</colgroup>|</?(?:thead|tbody)[^>]*>", "", html, flags=re.DOTALL)
    for tag, name in (("table", "column"), ("tr", "row"), ("t[dh]", "cell")):
        opening = rf'<{tag}\b(?: class="([^"]*)")?[^>]*>'
        html = re.sub(opening, lambda found, name=name: f'<div class="x-{name} {found[1] or ""}">', html)
        html = re.sub(rf"</{tag}>", "</div>", html)
    return html.replace("</style>", FLEX + "</style>", 1)


if __name__ == "__main__":
    main()
