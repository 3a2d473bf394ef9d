"""Logos: what Pillow writes is taken, what is broken anywhere is not.

Source: ISO/IEC 15948 (PNG), by Pillow, a general reference library, which writes the good ones; the bad ones are
made from those here.
"""

from __future__ import annotations

import io
import shutil
from pathlib import Path

import pytest
from conftest import EXAMPLE
from PIL import Image

from briefgen.errors import InputFault
from briefgen.files.read_trip import read_trip
from briefgen.model.policy import Logo

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 60">{}</svg>'


def png(mode: str, size: tuple[int, int] = (60, 30)) -> bytes:
    """Return a picture as Pillow writes it, with something in it."""
    picture = Image.linear_gradient("L").resize(size).convert(mode)
    written = io.BytesIO()
    picture.save(written, "PNG")
    return written.getvalue()


@pytest.fixture
def club(tmp_path: Path) -> Path:
    return Path(shutil.copytree(EXAMPLE, tmp_path / "club"))


def read(club: Path, name: str, content: bytes) -> Logo:
    """Return the logo that a trip's policy has."""
    (club / name).write_bytes(content)
    policy = club / "policy.yaml"
    shutil.copy(EXAMPLE / "policy.yaml", policy)
    with policy.open("a", encoding="utf-8") as file:
        file.write(f"\nletterhead: {{name: The club, logo: {name}}}\n")
    trip, _ = read_trip(club / "trip.yaml", "trip.yaml")
    assert trip.policy
    assert trip.policy.letterhead
    assert trip.policy.letterhead.logo
    return trip.policy.letterhead.logo


@pytest.mark.parametrize("mode", ["1", "L", "LA", "P", "RGB", "RGBA", "I;16"])
def test_a_picture_of_every_kind_that_pillow_writes_is_taken(club: Path, mode: str) -> None:
    logo = read(club, "logo.png", png(mode))
    assert (logo.media_type, logo.width_to_height, logo.file.name) == ("image/png", 2.0, "logo.png")


def test_a_picture_with_any_one_byte_changed_is_refused(club: Path) -> None:
    """The sum of each chunk (CRC-32) finds every change of one byte; the signature is compared."""
    whole = png("L", (16, 16))
    tried = 0
    for at in range(0, len(whole), 3):
        spoiled = whole[:at] + bytes([whole[at] ^ 0x10]) + whole[at + 1 :]
        with pytest.raises(InputFault, match=r"is no PNG picture|that is broken"):
            read(club, "logo.png", spoiled)
        tried += 1
    assert tried > 25


def test_a_picture_of_more_than_200_kB_is_refused(club: Path) -> None:
    long = SVG.format(f'<path d="M0 0{" L1 1" * 40_000}"/>').encode()
    with pytest.raises(InputFault, match=r"'logo.svg' has 200,\d{3} bytes; the most is 200,000; make it smaller"):
        read(club, "logo.svg", long)


def test_a_drawing_of_too_many_parts_or_too_deep_is_refused(club: Path) -> None:
    for inside in ('<path d=""/>' * 3_001, "<g>" * 21 + "</g>" * 21):
        with pytest.raises(InputFault, match="more than 3,000 parts, or 20 inside one another"):
            read(club, "logo.svg", SVG.format(inside).encode())


def test_a_drawing_is_as_wide_for_its_height_as_it_says(club: Path) -> None:
    logo = read(club, "logo.svg", SVG.format('<path d="M0 0 H9" clip-path="url(#a)"/>').encode())
    assert (logo.media_type, logo.width_to_height) == ("image/svg+xml", 2.0)


def test_a_drawing_program_s_own_notes_are_passed_over(club: Path) -> None:
    notes = '<metadata><rdf xmlns="http://www.w3.org/1999/02/22-rdf-syntax-ns#"><any/></rdf></metadata>'
    assert read(club, "logo.svg", SVG.format(notes).encode()).width_to_height == 2.0


@pytest.mark.parametrize(
    ("inside", "said"),
    [
        (
            '<image href="data:image/png;base64,iVBORw0KGgo="/>',
            "that is a PNG picture that is broken",
        ),
        ('<image href="data:image/png;base64,a"/>', "a picture in it that is"),
        ('<image href="data:image/svg+xml;base64,PHN2Zy8+"/>', "'href' to something outside it"),
        ("<?go there?>", "an instruction"),
        ("<style>path { fill: u\\72l(x) }</style>", "in its style"),
        ("<any:one xmlns:any='urn:any'/>", "<one>"),
    ],
)
def test_what_else_may_not_be_in_a_drawing(club: Path, inside: str, said: str) -> None:
    with pytest.raises(InputFault) as caught:
        read(club, "logo.svg", SVG.format(inside).encode())
    assert said in caught.value.lines()[0]
    assert caught.value.lines()[0].startswith("logo.svg:1:")


def test_a_picture_inside_a_drawing_is_taken_where_it_is_good(club: Path) -> None:
    from base64 import b64encode

    inside = f'<image href="data:image/png;base64,{b64encode(png("L")).decode()}"/>'
    assert read(club, "logo.svg", SVG.format(inside).encode()).width_to_height == 2.0
