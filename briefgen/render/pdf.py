"""The sheet as PDF, and the proof that nothing of it was lost on the way."""

from __future__ import annotations

import ctypes
import gc
import logging
import sys
import warnings
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from briefgen.brief import Brief
from briefgen.errors import BriefgenError, CannotPrint, InputFault
from briefgen.model.given import Given
from briefgen.render.archive import attachments, carried, finish
from briefgen.render.lettering import typefaces
from briefgen.render.proof import FailedProof, prove
from briefgen.render.sheet import to_html
from briefgen.resources import folder


class FetchRefused(CannotPrint):
    """The sheet asks for something that it may not open."""


LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}


def missing_packages() -> list[str]:
    """Return the Debian packages of the system libraries that are not here, looked for without importing anything.

    Elsewhere than on Linux the libraries have other names: there the import itself tells.
    """
    if sys.platform != "linux":
        return []
    return [package for library, package in LIBRARIES.items() if not _loads(library)]


def require_libraries() -> None:
    """Make sure of the system libraries that the PDF needs.

    Raises
    ------
    CannotPrint : names what is missing and the line that installs it.
    """
    packages = missing_packages()
    if packages:
        raise CannotPrint(
            f"the PDF needs system libraries that are not here; run: apt-get install {' '.join(packages)}\n"
            "without them: briefgen build TRIP -o FILE.html"
        )


def _loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def to_pdf(brief: Brief) -> bytes:
    """Return the PDF, proved: every item and caution is in it, nothing is off the page or over another.

    Raises
    ------
    CannotPrint : a library is missing, or the proof failed; nothing is returned that was not proved.
    """
    html = to_html(brief, for_screen=False)
    with heard() as heard_lines:
        try:
            content = render(html, carried(brief), brief.prepared)
        except FetchRefused as error:
            raise _by_templates(brief, error) from None
    try:
        prove(content, brief, heard_lines)
    except FailedProof as error:
        raise _by_templates(brief, error) from None
    return content


def _by_templates(brief: Brief, error: CannotPrint) -> BriefgenError:
    """Return what a sheet failed by: where the club's own templates made it, as their fault."""
    if not brief.templates:
        return error
    from briefgen.render.own import blamed

    return InputFault([blamed(brief.templates, str(error).partition("\n")[0])])


def render(html: str, files: Sequence[Given] = (), at: str = "") -> bytes:
    """Return HTML as PDF bytes: archival and tagged, PDF/A-3a and PDF/UA-1; the same for the same HTML and files.

    Parameters
    ----------
    html : one document with its language, title and the alternatives of its pictures.
    files : what the PDF carries.
    at : the date of those, RFC 3339.
    """
    require_libraries()
    try:
        import weasyprint
    except OSError as error:
        hint = "brew install pango" if sys.platform == "darwin" else "see WeasyPrint's installation page"
        raise CannotPrint(f"the PDF needs the Pango libraries, which do not load here; {hint}\n{error}") from None
    from weasyprint.urls import FatalURLFetchingError

    collecting = gc.isenabled()
    gc.disable()
    try:
        document = weasyprint.HTML(string=html, url_fetcher=_fetcher(), base_url=None)
        with warnings.catch_warnings():  # the library leaves the file of its colour profile to be closed by itself
            warnings.simplefilter("ignore", ResourceWarning)
            content: bytes = document.write_pdf(
                font_config=_fonts(),
                pdf_variant="pdf/a-3a",
                attachments=attachments(files, at) if files else None,
                finisher=finish,
            )
    except FatalURLFetchingError as error:  # no Exception: the library's own way to stop for good
        raise FetchRefused(f"the sheet asks for something that it may not open: {error}") from None
    finally:
        if collecting:
            gc.enable()
    return content


@cache
def _fonts() -> Any:
    from weasyprint.text.fonts import FontConfiguration

    return FontConfiguration()


@cache
def _fetcher() -> Any:
    """Return a fetcher that opens data URIs, the typeface and our templates, and refuses everything else."""
    from weasyprint.urls import URLFetcher

    allowed = [path.resolve() for path in typefaces().values()]
    inside = folder("templates").resolve()

    class Fetcher(URLFetcher):  # type: ignore[misc]
        def __init__(self) -> None:
            super().__init__(allowed_protocols=("data", "file"), fail_on_errors=True)

        def fetch(self, url: str, headers: Any = None) -> Any:
            parts = urlsplit(url)
            if parts.scheme == "file":
                path = Path(unquote(parts.path)).resolve()
                if parts.netloc or (path not in allowed and not path.is_relative_to(inside)):
                    raise ValueError("this sheet may not open that file")
            elif parts.scheme != "data":
                raise ValueError("this sheet may not use the network")
            return super().fetch(url, headers)

    return Fetcher()


@contextmanager
def heard() -> Iterator[list[str]]:
    """Gather what the PDF library logs: it is silent about lost text, so whatever it does say counts."""
    lines: list[str] = []

    class Listener(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            lines.append(record.getMessage())

    listener = Listener(logging.WARNING)
    loggers = [logging.getLogger(name) for name in ("weasyprint", "fontTools")]
    kept = [logger.propagate for logger in loggers]
    for logger in loggers:
        logger.addHandler(listener)
        logger.propagate = False
    try:
        yield lines
    finally:
        for logger, propagate in zip(loggers, kept, strict=True):
            logger.removeHandler(listener)
            logger.propagate = propagate
