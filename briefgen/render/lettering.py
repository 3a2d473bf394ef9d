"""The typeface of every page: where its files are, and how wide its words are in a drawing."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from briefgen.errors import CannotPrint

FACES = {"regular": "IBMPlexSansCondensed-Regular.ttf", "semibold": "IBMPlexSansCondensed-SemiBold.ttf"}
SIZE = 36.0  # of the letters of a drawing, in tenths of a millimetre: 10 pt, the floor of the sheet
CAP, DROP = 26.0, 10.0  # how far its letters reach above the line, and below it


def typefaces() -> dict[str, Path]:
    """Return the files of the typeface, by weight.

    Raises
    ------
    CannotPrint : they are not installed. Without any typeface the PDF library ends the whole process.
    """
    try:
        import fontpkg_ibm_plex_sans_condensed as package
    except ImportError:
        raise CannotPrint("the typeface is missing: pip install fontpkg-ibm-plex-sans-condensed") from None
    found = {name: Path(package.ROOT) / "files" / file for name, file in FACES.items()}
    if not all(path.is_file() for path in found.values()):
        raise CannotPrint(
            "the typeface is incomplete: pip install --force-reinstall fontpkg-ibm-plex-sans-condensed"
        )
    return found


def width(text: str, *, strong: bool = False) -> float:
    """Return how wide words are in a drawing, in tenths of a millimetre, by the typeface's own measures.

    A letter that the typeface lacks, which comes from another, is counted as wide as it is high.
    """
    widths = _widths("semibold" if strong else "regular")
    return sum([widths.get(ord(letter), SIZE) for letter in text])


def folded(text: str, limit: float, *, strong: bool = False) -> tuple[str, ...]:
    """Return words in as few lines as stay inside a limit; a word too long for any is broken, a hard space holds.

    >>> folded("big oak by the farm gate", 200)
    ('big oak by the', 'farm gate')
    """
    lines = [""]
    for word in text.split(" "):
        longer = f"{lines[-1]} {word}".strip()
        if width(longer, strong=strong) <= limit:
            lines[-1] = longer
            continue
        lines.append("")
        for letter in word:
            if width(lines[-1] + letter, strong=strong) > limit:
                lines.append("")
            lines[-1] += letter
    return tuple(line for line in lines if line)


@cache
def _widths(weight: str) -> Mapping[int, float]:
    """Return the width of each letter of a weight."""
    from fontTools.ttLib import TTFont  # it comes with the PDF library, whose typefaces it reads too

    with TTFont(typefaces()[weight], lazy=True) as font:
        of_glyphs, per_em = font["hmtx"], font["head"].unitsPerEm
        return {code: of_glyphs[name][0] * SIZE / per_em for code, name in font.getBestCmap().items()}
