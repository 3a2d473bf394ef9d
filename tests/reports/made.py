"""Reports and forecasts made up, and ways to spoil them."""

from __future__ import annotations

from hypothesis import strategies as st
from reading import MT_01, MT_02, MT_04, MT_05, MT_06

STRANGE = st.characters(exclude_categories=["Cs"])
TENS = st.integers(1, 36).map(lambda tens: tens * 10)
MILES = ("1/4", "1/2", "3/4", "1", "1 1/2", "2", "3", "5", "6", "10")
WEATHER = ("", "-RA", "+SHRA", "BR", "FG", "TSRA", "-SN", "HZ", "FZDZ", "VCSH")


@st.composite
def winds(draw: st.DrawFn) -> str:
    """A wind in knots, with a gust or not."""
    steady = draw(st.integers(1, 60))
    gust = draw(st.one_of(st.none(), st.integers(steady + 3, steady + 35)))
    return f"{draw(TENS):03d}{steady:02d}{f'G{gust:02d}' if gust else ''}KT"


@st.composite
def clouds(draw: st.DrawFn) -> str:
    """Sky clear, or up to three layers."""
    layers = draw(
        st.lists(st.tuples(st.sampled_from(("FEW", "SCT", "BKN", "OVC")), st.integers(1, 250)), max_size=3)
    )
    return " ".join(f"{amount}{height:03d}" for amount, height in layers) or "SKC"


@st.composite
def skies(draw: st.DrawFn) -> str:
    """A wind, a visibility, weather and cloud."""
    parts = (draw(winds()), f"{draw(st.sampled_from(MILES))}SM", draw(st.sampled_from(WEATHER)), draw(clouds()))
    return " ".join(filter(None, parts))


@st.composite
def metars(draw: st.DrawFn) -> str:
    """A METAR that any reader should be able to read."""
    air, dew = draw(st.integers(-30, 45)), draw(st.integers(-40, 30))
    degrees = "/".join(f"M{-each:02d}" if each < 0 else f"{each:02d}" for each in (air, dew))
    setting = draw(st.integers(2850, 3090))
    return f"METAR XAAA 091955Z {draw(skies())} {degrees} A{setting}"


@st.composite
def tafs(draw: st.DrawFn) -> str:
    """A TAF from 18Z on the 9th to 24Z on the 10th, with up to four changes in their order of time."""
    parts = [f"TAF XAAA 091730Z 0918/1024 {draw(skies())}"]
    hours = draw(st.lists(st.integers(19, 44), max_size=4, unique=True))
    for hour in sorted(hours):
        kind = draw(st.sampled_from(("FM", "BECMG", "TEMPO", "PROB30", "PROB40 TEMPO")))
        from_, to = (f"{9 + each // 24:02d}{each % 24:02d}" for each in (hour, hour + 2))
        heading = f"FM{from_}{draw(st.integers(0, 59)):02d}" if kind == "FM" else f"{kind} {from_}/{to}"
        parts.append(f"{heading} {draw(skies())}")
    return " ".join(parts)


@st.composite
def spoiled(draw: st.DrawFn, whole: st.SearchStrategy[str]) -> str:
    """A text with tokens deleted, doubled or swapped, characters changed, and strange ones put in."""
    parts = draw(whole).split()
    for _ in range(draw(st.integers(1, 6))):
        if not parts:
            break
        at = draw(st.integers(0, len(parts) - 1))
        how = draw(st.sampled_from(("delete", "double", "swap", "change", "insert", "long")))
        if how == "delete":
            del parts[at]
        elif how == "double":
            parts.insert(at, parts[at])
        elif how == "swap":
            other = draw(st.integers(0, len(parts) - 1))
            parts[at], parts[other] = parts[other], parts[at]
        elif how == "change":
            place = draw(st.integers(0, len(parts[at]) - 1))
            new = draw(st.one_of(st.sampled_from("0123456789/KTSMVPG+-=$"), STRANGE))
            parts[at : at + 1] = (parts[at][:place] + new + parts[at][place + 1 :]).split()
        elif how == "insert":
            parts[at:at] = draw(st.text(STRANGE, max_size=8)).split()
        else:
            parts[at] *= draw(st.integers(2, 400))
    return draw(st.sampled_from((" ", "\n", "  \t"))).join(parts)


PUBLISHED_METARS = st.sampled_from((MT_01, MT_04, MT_05, MT_06))
PUBLISHED_TAFS = st.just(MT_02)
