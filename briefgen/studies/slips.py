"""Slips of typing: which number may have been meant, one slip of a finger away from the one that stands there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

# How unlikely each slip is, in halves of a squared standard error: two whole digits are changed or lost by it less
# often than they are swapped. Common practice, no source.
SWAPPED, DOUBLED, DROPPED, MISTYPED, POINT = (
    "two digits swapped",
    "a digit doubled",
    "a digit dropped",
    "a digit mistyped",
    "the decimal point",
)
_UNLIKELY = {SWAPPED: 0.0, DOUBLED: 0.0, DROPPED: 0.5, POINT: 0.5, MISTYPED: 2.5}
_NEAR = 5.0  # a mend stands within so many standard errors of what is expected
_STEPS = (1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0)
_MOST_ODD = 0.05  # of a table's numbers, how many may be off its step by slips
_DIGITS = "0123456789"


class Mend(NamedTuple):
    """A number that may have been meant, and the slip that makes of it what stands there."""

    text: str
    slip: str


def printed_step(texts: Iterable[str]) -> float:
    """Return the step that numbers are printed in, such as 5, a few slips among them aside.

    Parameters
    ----------
    texts : the numbers as typed, such as '725' or '9.3'; the step is in their own unit.
    """
    given = list(texts)
    places = max((len(text.partition(".")[2]) for text in given), default=0)
    unit = 10.0**-places
    whole = [round(float(text) / unit) for text in given]
    odd = int(len(whole) * _MOST_ODD)
    return unit * max(step for step in _STEPS if sum(n % int(step) != 0 for n in whole) <= (odd if step > 1 else 0))


def off_step(text: str, step: float) -> bool:
    """Say whether a number is no whole number of steps."""
    return abs(float(text) / step - round(float(text) / step)) > 1e-6


def mend(text: str, expected: float, error: float, step: float) -> Mend | None:
    """Return the number most likely meant, None where one slip leads to none that is near what is expected.

    Parameters
    ----------
    text : as typed.
    expected : what the surface has there.
    error : its standard error, over 0, in the same unit.
    step : that the numbers are printed in.
    """
    best: tuple[float, Mend] | None = None
    for meant, slip in meant_for(text):
        away = abs(float(meant) - expected) / error
        if away > _NEAR or off_step(meant, step):
            continue
        cost = away * away / 2 + _UNLIKELY[slip]
        if best is None or cost < best[0]:
            best = cost, Mend(meant, slip)
    return best[1] if best else None


def meant_for(text: str) -> Iterator[tuple[str, str]]:
    """Return every number from which one slip makes this one, with that slip."""
    seen = {text}
    for meant, slip in _edits(text):
        leading_nought = meant[:1] == "0" and meant[1:2] not in ("", ".")
        if meant not in seen and meant.strip(".") == meant != "" and not leading_nought:
            seen.add(meant)
            yield meant, slip


def _edits(text: str) -> Iterator[tuple[str, str]]:
    """Return what each slip may have made this text of; some more than once, some that are no number."""
    for i in range(len(text) - 1):
        if "." not in text[i : i + 2]:
            yield text[:i] + text[i + 1] + text[i] + text[i + 2 :], SWAPPED
    for i in range(1, len(text)):
        if text[i] == text[i - 1]:
            yield text[:i] + text[i + 1 :], DOUBLED
    for i in range(len(text) + 1):
        for digit in _DIGITS:
            yield text[:i] + digit + text[i:], DROPPED
    digits = text.replace(".", "")
    for i in range(1, len(digits)):
        yield f"{digits[:i]}.{digits[i:]}", POINT
    for i, sign in enumerate(text):
        if sign != ".":
            for digit in _DIGITS:
                yield text[:i] + digit + text[i + 1 :], MISTYPED
            yield text[:i] + text[i + 1 :], MISTYPED  # one too many
