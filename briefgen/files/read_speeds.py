"""Note what cannot be right in an aircraft file's speeds of climb and maneuvering."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import pairwise
from typing import Any

from briefgen.files.entry import Entry
from briefgen.model.aircraft import UP, SpeedByWeight

_RISE_WITH_WEIGHT = ("best_angle", "best_rate", "maneuvering")


def check_single_speeds(root: Entry, speeds: Mapping[str, Any]) -> None:
    """Note every speed of climb or maneuvering that cannot be right.

    Each must not fall as the weight rises; best angle is no faster than best rate; each is above the stall with the
    flaps up.
    """
    entry = root.get("speeds")
    if entry is None:
        return
    stall_kt = max(
        (max(each.speeds_kt, default=0.0) for each in speeds.get("stall", ()) if each.flaps == UP), default=0
    )
    for name in _RISE_WITH_WEIGHT:
        found, place = speeds.get(name), entry.get(name)
        if found is None or place is None or not found.speeds_kt:
            continue
        _rising(place, found, name)
        if min(found.speeds_kt) <= stall_kt:
            words = (
                f"{_said(name)} of {min(found.speeds_kt):g} kt, beside a stall at {stall_kt:g} kt with the flaps up"
            )
            place.fault(f"{words}, cannot be right", "look at both on their pages")
    angle, rate = speeds.get("best_angle"), speeds.get("best_rate")
    if angle and rate and angle.speeds_kt and rate.speeds_kt and max(angle.speeds_kt) > max(rate.speeds_kt):
        words = f"best angle, {max(angle.speeds_kt):g} kt, is faster than best rate, {max(rate.speeds_kt):g} kt"
        entry["best_angle"].fault(words, "look whether they are the wrong way round")


def _rising(entry: Entry, found: SpeedByWeight, name: str) -> None:
    """Note a list by weight in which a heavier airplane has a slower speed."""
    pairs = zip(found.weights_lb, found.speeds_kt, strict=False)
    for (light_lb, lighter_kt), (heavy_lb, heavier_kt) in pairwise(pairs):
        if heavy_lb > light_lb and heavier_kt < lighter_kt:
            message = f"{_said(name)} falls from {lighter_kt:g} to {heavier_kt:g} kt as the weight rises"
            entry["by_weight"].fault(message, "the heavier airplane has the faster speed")


def _said(name: str) -> str:
    return "maneuvering speed" if name == "maneuvering" else name.replace("_", " ")
