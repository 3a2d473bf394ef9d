"""Print what the promises about speed are worth here, each as a ratio to a stated baseline. Nothing is asserted.

Run by `make bench`. The ratios are medians of runs taken in turn, so that a slow moment hits both sides.
"""

from __future__ import annotations

import gc
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from briefgen.brief import Brief
from briefgen.calc.legs import navigate
from briefgen.calc.performance import tables
from briefgen.files.read_trip import read_trip
from briefgen.model.trip import Trip
from briefgen.pipeline import brief_of, work
from briefgen.render.pdf import render, to_pdf
from briefgen.render.sheet import to_html
from briefgen.rules.engine import PACKS, raise_cautions
from briefgen.rules.pack import read_pack

TRIP = Path(__file__).resolve().parents[2] / "examples" / "quillmere" / "trip.yaml"
PAGES = (
    *("takeoff", "landing", "speeds", "recheck", "load", "route", "alternate", "daylight", "papers", "weather"),
    *("compared", "sections", "remarks", "rework", "said"),
)
ROUNDS = 15
LEGS = 10
WORKED = 50  # models, of each kind


def main() -> None:
    """Print every figure."""
    whole_process()
    working_a_trip()
    working_many_legs()
    rules()
    pdf()


def whole_process() -> None:
    """`briefgen check` as a whole process, against importing what it cannot do without."""
    ours = [str(Path(sys.executable).with_name("briefgen")), "check", str(TRIP)]
    bare = [sys.executable, "-c", "import yaml, jsonschema"]
    pairs = [(_process(ours), _process(bare)) for _ in range(ROUNDS)]
    _ratio("briefgen check, whole process", pairs, 'python -c "import yaml, jsonschema"', 2.0)


def working_a_trip() -> None:
    """Model in, Brief out, cautions raised; each model worked for the first time, so that nothing is remembered."""
    print(f"working a trip, model in, Brief out: {_working(TRIP)}, promised under 2 ms")


def working_many_legs() -> None:
    """The same for ten legs by power, with their climbs worked, a load and its balance."""
    with tempfile.TemporaryDirectory() as folder:
        trip = Path(shutil.copytree(TRIP.parent, Path(folder) / "club")) / TRIP.name
        text = trip.read_text(encoding="utf-8")
        first = text.index("  legs:\n") + len("  legs:\n")
        last = text.index("    - {to: Tansy Bottom")
        legs = [
            f"    - {{to: place {i}, position: 41.{310 + 25 * i} N {(84.200, 84.600)[i % 2]:.3f} W, "
            f"altitude: {(4500, 5500)[i % 2]} ft, power: 2400 rpm}}\n"
            for i in range(LEGS - 1)
        ]
        onward = text[last:].replace("at: Two Chimneys", "at: place 0")
        trip.write_text(text[:first] + "".join(legs) + onward, encoding="utf-8")
        found = read_trip(trip, trip.name)[0]
        assert found.route is not None
        assert found.load is not None
        assert len(found.route.legs) == LEGS
        print(f"working {LEGS} legs, load and balance: {_working(trip)}, promised under 5 ms")


def _working(path: Path) -> str:
    """Return the median times from a model to its Brief with its cautions, and until each of its pages was read.

    Each model is worked for the first time, so that nothing of its own is remembered: as in use, where its route
    was flown when it was read; and with the route flown anew. The models are read beforehand, and set aside from
    the garbage collector, which has only one to look through where one trip is worked.
    """
    base = read_pack(PACKS / "base.yaml", "base.yaml")
    trips = [read_trip(path, path.name)[0] for _ in range(2 * WORKED)]
    gc.collect()
    gc.freeze()
    last: list[Brief] = []  # and no other: a program works one

    def brief(trip: Trip) -> None:
        last[:] = [work(trip)]
        raise_cautions(base, last[0].facts)

    anew = [_clock(lambda trip=trip: brief(trip)) for trip in trips[:WORKED]]  # type: ignore[misc]
    in_use = []
    for trip in trips[WORKED:]:
        assert trip.route
        navigate(trip.route, trip.aircraft.deviation, tables(trip.aircraft, trip.departure, trip.fuel))
        in_use.append(_clock(lambda trip=trip: brief(trip)))  # type: ignore[misc]
    pages = []
    for trip in trips[:WORKED]:
        brief(trip)
        pages.append(_clock(lambda: [getattr(last[0], name) for name in PAGES]))
    gc.unfreeze()
    used, flown, read = (statistics.median(times) * 1e3 for times in (in_use, anew, pages))
    return f"median {used:.2f} ms ({flown:.2f} with its route flown anew; its pages and working {read:.2f} more)"


def rules() -> None:
    """The base pack, repeated to 200 rules, on one Brief."""
    facts = brief_of(TRIP, "trip.yaml").facts
    pack = (read_pack(PACKS / "base.yaml", "base.yaml") * 20)[:200]
    times = [_clock(lambda: raise_cautions(pack, facts)) for _ in range(30)]
    print(f"{len(pack)} rules on a Brief: median {statistics.median(times) * 1e3:.2f} ms, promised under 5 ms")


def pdf() -> None:
    """The PDF with its proof, against the PDF library alone on the same HTML in the same process."""
    import weasyprint
    from weasyprint.text.fonts import FontConfiguration

    brief = brief_of(TRIP, "trip.yaml")
    html = to_html(brief, for_screen=False)
    fonts = FontConfiguration()
    render(html)
    pairs = [
        (
            _clock(lambda: to_pdf(brief)),
            _clock(lambda: weasyprint.HTML(string=html).write_pdf(font_config=fonts)),
        )
        for _ in range(7)
    ]
    _ratio("PDF build with its proof, warm", pairs, "WeasyPrint alone on the same HTML", 1.2)


def _process(command: list[str]) -> float:
    return _clock(lambda: subprocess.run(command, check=True, stdout=subprocess.DEVNULL))


def _clock(run: Callable[[], object]) -> float:
    start = time.perf_counter()
    run()
    return time.perf_counter() - start


def _ratio(name: str, pairs: list[tuple[float, float]], baseline: str, promised: float) -> None:
    ratio = statistics.median(a / b for a, b in pairs)
    a, b = (statistics.median(side) * 1e3 for side in zip(*pairs, strict=True))
    print(f"{name}: {ratio:.2f} times {baseline} ({a:.0f} ms to {b:.0f} ms), promised {promised:g}")


if __name__ == "__main__":
    main()
