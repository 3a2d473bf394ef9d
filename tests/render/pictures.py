"""Pages compared as pictures: what another build of the text libraries moves passes, a change does not."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

import numpy as np
import pypdfium2
from PIL import Image

DPI = 60
KEPT_GREYS = 16  # of a kept picture; a tenth of its size, and nothing that matters
BLOCK = 6  # pixels: about one digit of 12 pt
STRONG = 25  # of 255: the mean difference of a block that is another one; letters 0.02 pt wider apart make up to 20
MOST_STRONG = 2  # such blocks that a page may have; a number that moved by 3 mm makes 4
MOST_MEAN = 1.5  # of 255, over the whole page
NEAR = 1  # pixels that anything may move


class Difference(NamedTuple):
    """How unlike two pictures are: mean difference of 255, the strongly different blocks, and where they are."""

    mean: float
    blocks: int
    places: np.ndarray

    @property
    def passes(self) -> bool:
        """Whether it is what another build of the text libraries may do."""
        return self.mean <= MOST_MEAN and self.blocks <= MOST_STRONG


def drawn(page: pypdfium2.PdfPage) -> np.ndarray:
    """Return a page in grey, 0 to 255, of `DPI` points to the inch."""
    picture = page.render(scale=DPI / 72, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2]).astype(np.int16)


def keep(picture: np.ndarray, path: Path) -> None:
    """Write a picture small."""
    path.parent.mkdir(exist_ok=True)
    Image.fromarray(picture.astype(np.uint8)).quantize(KEPT_GREYS).save(path, optimize=True)


def kept(path: Path) -> np.ndarray:
    """Read a picture that was kept."""
    with Image.open(path) as picture:
        return np.asarray(picture.convert("L"), dtype=np.int16)


def compare(before: np.ndarray, now: np.ndarray) -> Difference:
    """Return how unlike two pictures of one size are, block by block, each held where it is most alike nearby."""
    assert before.shape == now.shape, f"{before.shape} was kept, now it is {now.shape}"
    soft, other = _softened(before), _softened(now)
    framed = np.pad(other, NEAR, constant_values=255)
    high, wide = soft.shape
    steps = range(2 * NEAR + 1)
    near = [_by_block(abs(soft - framed[y : y + high, x : x + wide])) for y in steps for x in steps]
    apart = np.stack(near).min(axis=0)
    strong = apart > STRONG
    return Difference(float(apart.mean()), int(strong.sum()), strong)


def _softened(picture: np.ndarray) -> np.ndarray:
    """Return a picture, each point the mean of nine: whether a stem falls on one pixel or on two is no matter."""
    framed = np.pad(picture, 1, mode="edge")
    high, wide = picture.shape
    return sum(framed[y : y + high, x : x + wide] for y in range(3) for x in range(3)) / 9


def _by_block(points: np.ndarray) -> np.ndarray:
    high, wide = (each // BLOCK for each in points.shape)
    return points[: high * BLOCK, : wide * BLOCK].reshape(high, BLOCK, wide, BLOCK).mean(axis=(1, 3))


def marked(before: np.ndarray, now: np.ndarray, difference: Difference, path: Path) -> None:
    """Write what was kept and what is now side by side, the strongly different blocks of both in red."""
    sides = []
    for side in (before, now):
        picture = np.stack([side] * 3, axis=-1).astype(np.uint8)
        for y, x in np.argwhere(difference.places):
            picture[y * BLOCK : (y + 1) * BLOCK, x * BLOCK : (x + 1) * BLOCK, 1:] //= 2
        sides.append(picture)
    Image.fromarray(np.concatenate(sides, axis=1)).save(path)
