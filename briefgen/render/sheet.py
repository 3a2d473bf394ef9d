"""The sheet as HTML: one self-contained file, by Jinja templates."""

from __future__ import annotations

from base64 import b64encode
from functools import cache, lru_cache
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_environment
from markupsafe import Markup

from briefgen.brief import Brief
from briefgen.daylight_page import Timeline
from briefgen.errors import Problem
from briefgen.item import Item, State
from briefgen.loading import EnvelopeChart
from briefgen.model.given import OwnFile
from briefgen.model.policy import Logo
from briefgen.plans import Sketch
from briefgen.render import asked, curves, envelope, profile, sky, timeline, wind_drawing, words
from briefgen.render.drawings import lay_out
from briefgen.render.lettering import typefaces
from briefgen.render.paper import PAPERS
from briefgen.required_page import required_page
from briefgen.resources import folder
from briefgen.risk_page import risk_page
from briefgen.side_view import SideView
from briefgen.table_picture import TablePanel
from briefgen.wind_picture import WindPicture

if TYPE_CHECKING:
    from briefgen.render.own import OwnEnvironment

Drawn = Sketch | EnvelopeChart | Timeline | WindPicture | SideView | TablePanel | curves.Panel


def to_html(brief: Brief, *, for_screen: bool) -> str:
    """Return the sheet.

    Parameters
    ----------
    brief : finished.
    for_screen : carry the typeface inside, so that the file needs nothing else; otherwise name the files.
    """
    values = _values(brief, for_screen=for_screen)
    if not brief.templates:
        return filled("sheet.html.j2", **values)
    from briefgen.render.own import fenced, filled_in

    html = filled_in(_own_environment(brief.templates), "sheet.html.j2", brief.templates, values)
    return fenced(html, brief, for_screen=for_screen, fonts=values["font"].values())


def faults_of_templates(files: tuple[OwnFile, ...]) -> list[Problem]:
    """Return what is wrong with a club's templates, as far as that shows before they are filled."""
    from briefgen.render.own import compiled

    return compiled(_own_environment(files), files)


def _values(brief: Brief, *, for_screen: bool) -> dict[str, Any]:
    """Return what the templates of a sheet are filled with."""
    counts = [(state.value, brief.counts[state]) for state in State]
    paper = PAPERS[brief.page_size]
    return {
        "brief": brief,
        "risk": risk_page(brief),
        "required": required_page(brief),
        "counts": counts,
        "font": faces(for_screen=for_screen),
        "for_screen": for_screen,
        "paper": paper,
        "foot_mm": paper.foot_mm(brief.limits),
        "sign_mm": paper.sign_mm(brief.sign_off),
    }


def filled(template: str, **values: Any) -> str:
    """Return a template of the house, filled in."""
    return _environment().get_template(template).render(**values)


def faces(*, for_screen: bool) -> dict[str, str]:
    """Return where a page finds the typeface, by weight: inside itself, or by the names of the files."""
    return {name: _inside(path) if for_screen else path.as_uri() for name, path in typefaces().items()}


# Filters of the templates, by their own names.
_NAMED = (
    words.number,
    words.needed,
    words.signed,
    words.told,
    words.beside,
    words.beneath,
    words.note,
    words.missed,
    words.after,
    words.arithmetic,
    words.title,
    words.times,
    words.amount,
    words.planned,
    words.flown,
    words.heads,
    words.summed,
    words.minutes,
    words.begins,
    words.runs,
    words.worked_for,
    words.unshown,
    words.across,
    sky.decoded,
    sky.heading,
    sky.remarks,
    sky.used,
    sky.ways,
    sky.aloft_said,
    asked.lead,
    asked.place,
    profile.heights,
)


_OPTIONS: Any = {"undefined": StrictUndefined, "trim_blocks": True, "lstrip_blocks": True}
T = TypeVar("T", bound=Environment)


@cache
def _environment() -> Environment:
    return _furnished(Environment(loader=FileSystemLoader(folder("templates")), autoescape=True, **_OPTIONS))


def _own_environment(files: tuple[OwnFile, ...]) -> OwnEnvironment:
    """Return an environment for one sheet by a club's own templates."""
    from briefgen.render.own import OwnEnvironment

    return _furnished(OwnEnvironment(files, **_OPTIONS))


def _furnished(environment: T) -> T:
    """Return an environment with what the sheet's templates use."""
    environment.tests |= {"alone": words.alone, "printed": asked.printed}
    environment.globals |= {
        "decoded": sky.decoded,
        "remarks": sky.remarks,
        "used": sky.used,
        "heading": sky.heading,
    }
    environment.filters |= {
        **{each.__name__: each for each in _NAMED},
        "step_label": words.step_label,
        "picture": _as_picture,
        "drawing": _drawing,
        "logo": _logo,
        "sign": _sign,
        "groupby_where": _by_place,
        "left_out": words.left_out,
        "pages_left_out": words.pages_left_out,
    }
    return environment


def _by_place(items: tuple[Item, ...]) -> list[tuple[str, list[Item]]]:
    """Return the items in their order, those of one runway together under its name."""
    return [(where, list(rows)) for where, rows in groupby(items, key=lambda item: item.where)]


def _laid_out(drawn: Drawn, width: float) -> tuple[str, Any]:
    """Return the template of a drawing, and what it draws."""
    if isinstance(drawn, EnvelopeChart):
        return "envelope.svg.j2", envelope.lay_out(drawn, width)
    if isinstance(drawn, Timeline):
        return "daylight.svg.j2", timeline.lay_out(drawn, width)
    if isinstance(drawn, TablePanel):
        return "curves.svg.j2", curves.lay_out(curves.of_table(drawn), width)
    if isinstance(drawn, curves.Panel):
        return "curves.svg.j2", curves.lay_out(drawn, width)
    if isinstance(drawn, SideView):
        return "profile.svg.j2", profile.lay_out(drawn, width)
    if isinstance(drawn, WindPicture):
        return "wind.svg.j2", wind_drawing.lay_out(drawn, width)
    return "strip.svg.j2", lay_out(drawn, width)


@pass_environment
def _as_picture(environment: Environment, drawn: Drawn, width: float) -> str:
    template, values = _laid_out(drawn, width)
    return _picture(environment, template, d=values)


@pass_environment
@lru_cache(maxsize=64)
def _sign(environment: Environment, state: str) -> str:
    return _picture(environment, "sign.svg.j2", state=state)


@pass_environment
def _drawing(environment: Environment, drawn: Drawn, width: float) -> Markup:
    """Return a drawing to stand in the page itself, where a browser finds the page's typeface for it."""
    template, values = _laid_out(drawn, width)
    return Markup(environment.get_template(template).render(d=values))  # escaped by its own template


def _picture(environment: Environment, template: str, **values: Any) -> str:
    """Return a drawing as a data URI, which is how the PDF library draws it fastest."""
    return _data("image/svg+xml", environment.get_template(template).render(**values).encode())


def _logo(logo: Logo) -> str:
    return _data(logo.media_type, logo.file.content)


def _inside(path: Path) -> str:
    return _data("font/ttf", path.read_bytes())


def _data(media_type: str, content: bytes) -> str:
    return f"data:{media_type};base64," + b64encode(content).decode()
