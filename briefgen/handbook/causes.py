"""The causes that a correction note can answer.

No calculation names one of them: a runway, its weather and the airplane give a mapping of causes to
amounts, and every cause that hinders must be answered by a note or by chosen guidance, or the figure is
refused. A cause that helps and has no note gives no credit.
"""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import NamedTuple


class Cause(NamedTuple):
    """One cause.

    `unit` is the unit of its amount, '' for one that is there or not (amount 1). `helps_*`: it shortens the
    distance of that phase. `milder`: causes that the handbook may print where it is silent on this one; they then
    count only together with guidance on this one, and the larger is taken. `may_be_nothing`: guidance may say that
    it changes nothing. `bound`: the input that limits the credit, as a fraction of the distance. `of_airplane`: it
    comes from the airplane, not the runway. `fitted`: a note for it says which equipment it is, and whether this
    airplane has it.
    """

    name: str
    unit: str = ""
    kind: str = ""  # of units.KINDS
    helps_takeoff: bool = False
    helps_landing: bool = False
    milder: tuple[str, ...] = ()
    may_be_nothing: bool = False
    bound: str = ""
    of_airplane: bool = False
    fitted: bool = False

    def helps(self, phase: str) -> bool:
        """Say whether the cause shortens the distance of 'takeoff' or 'landing'."""
        return self.helps_takeoff if phase == "takeoff" else self.helps_landing

    def milder_ones(self) -> Iterator[str]:
        """Return the names of its milder causes, and of theirs, the nearest first."""
        for less in self.milder:
            yield less
        for less in self.milder:
            yield from CAUSES[less].milder_ones()


CAUSES: Mapping[str, Cause] = MappingProxyType(
    {
        cause.name: cause
        for cause in (
            Cause("headwind", "kt", "speed", helps_takeoff=True, helps_landing=True, bound="headwind_bound"),
            Cause("tailwind", "kt", "speed"),
            Cause("upslope", "%", "percent", helps_landing=True),
            Cause("downslope", "%", "percent", helps_takeoff=True),
            Cause("above standard temperature", "°C", "temperature change"),
            Cause(
                "below standard temperature",
                "°C",
                "temperature change",
                helps_takeoff=True,
                helps_landing=True,
            ),
            Cause("dry grass"),
            Cause("long grass", milder=("dry grass",)),
            Cause("wet grass", milder=("dry grass",)),
            Cause("very short wet grass", milder=("wet grass",)),
            Cause("long wet grass", milder=("wet grass", "long grass")),
            Cause("gravel"),
            Cause("wet gravel", milder=("gravel",)),
            Cause("wet paved", may_be_nothing=True),
            Cause("standing water", milder=("wet paved",)),
            Cause("slush", milder=("wet paved",)),
            Cause("snow", milder=("wet paved",)),
            Cause("ice", milder=("wet paved",)),
            Cause("soft ground"),
            Cause("flaps up", of_airplane=True),
            Cause("own equipment", of_airplane=True, fitted=True),
        )
    }
)


# What a panel of a graph is entered with that has two directions: the causes above and below nil.
SIDES: Mapping[str, tuple[str, str]] = MappingProxyType(
    {"wind": ("headwind", "tailwind"), "slope": ("upslope", "downslope")}
)
# For each cause, itself and every cause for which it is a milder one: all that a note for it has a place for.
ANSWERS: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {name: (name, *(each.name for each in CAUSES.values() if name in tuple(each.milder_ones()))) for name in CAUSES}
)
