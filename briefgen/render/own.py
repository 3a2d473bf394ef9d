"""The sheet by a club's own templates: they are strangers' files, and are run where they can do no harm.

Jinja's sandbox keeps them from changing anything and from what is not theirs to read; escaping cannot be turned
off; loops, calls and texts are counted. What they make is looked through for anything that would reach out of it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from html.parser import HTMLParser
from typing import Any

from jinja2 import BaseLoader, TemplateNotFound, TemplateSyntaxError, nodes, pass_eval_context
from jinja2.exceptions import SecurityError, TemplateError
from jinja2.filters import do_join, do_replace
from jinja2.sandbox import ImmutableSandboxedEnvironment

from briefgen.brief import Brief
from briefgen.errors import InputFault, Problem
from briefgen.model.given import OwnFile
from briefgen.render.proof import lost
from briefgen.resources import folder

MOST_ROUNDS = 200_000  # of all loops, calls and templates of one sheet; the example's takes under 10,000
MOST_CHARACTERS = 4_000_000  # of a sheet, with the typeface in it for a screen
MOST_TEMPLATES = 150  # that are filled in for one sheet, drawings included
HOUSE = "house/"  # before the name of a template: that of briefgen, though the club has one in its place
LONGEST_LINE = 400  # characters of a message
LONGEST = 1_000_000  # characters of one text inside
_LARGEST = 1e15  # of a number
# What a template may use of Jinja itself: nothing that is by chance, switches escaping off, or fills out a text.
_FILTERS = frozenset(
    re.findall(
        r"\w+",
        """abs capitalize count d default e escape first float forceescape groupby int items last length list lower
        map max min reject rejectattr reverse round select selectattr sort string striptags sum title trim truncate
        unique upper""",
    )
)
_GLOBALS = ("dict", "namespace", "cycler", "joiner")
# What it may ask of a text.
_OF_TEXT = frozenset(
    re.findall(
        r"\w+",
        """capitalize endswith find isdigit islower isupper lower lstrip partition removeprefix removesuffix
        rpartition rstrip split splitlines startswith strip title upper""",
    )
)
_WIDE = re.compile(r"%[^a-zA-Z%]*(?:\d{3}|\*)")
_REFUSED_TAGS = re.compile(r"script|iframe|object|embed|link|base|form|frame|frameset|applet|audio|video|source")
_REACHING = re.compile(r"src|href|srcset|action|formaction|data|poster|background|xlink:href|cite|ping")
_URL = re.compile(r"url\s*\(\s*['\"]?\s*([^'\")\s]{0,60})|@import\s*(['\"][^'\"]{0,60})", re.IGNORECASE)
_ESCAPED = re.compile(r"\\(?:([0-9a-fA-F]{1,6})\s?|(.))", re.DOTALL)  # as CSS writes a character by its code
_COMMENT = re.compile(r"/\*.*?\*/", re.DOTALL)
# No browser opens anything for a sheet that says so: the second lock.
_POLICY = "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'"
_DOCTYPE = re.compile(r"\A\s*(?:<!doctype[^>]*>\s*)?", re.IGNORECASE)
_META = f'<meta http-equiv="Content-Security-Policy" content="{_POLICY}">'
_UNDO = "without 'templates' in the policy the sheet is briefgen's own"


class OwnEnvironment(ImmutableSandboxedEnvironment):
    """Jinja's sandbox with bounds; good for one sheet, of which it counts the work."""

    intercepted_binops = frozenset(["+", "*", "**", "%"])

    def __init__(self, files: Sequence[OwnFile], **options: Any) -> None:
        super().__init__(loader=_Loader(files), autoescape=True, **options)
        self.rounds = self.templates = 0
        kept = {name: each for name, each in self.filters.items() if name in _FILTERS}
        self.filters = {**kept, "format": _format, "join": _join, "replace": _replace, "counted": self._counted}
        self.filters["kept_short"] = _kept_short
        self.globals = {name: self.globals[name] for name in _GLOBALS} | {"range": _range}

    def count(self) -> None:
        """Count one round; raises SecurityError past the most."""
        self.rounds += 1
        if self.rounds > MOST_ROUNDS:
            raise SecurityError(f"it goes round more than {MOST_ROUNDS:,} times")

    def _counted(self, things: Iterable[Any]) -> Iterator[Any]:
        for each in things:
            self.count()
            yield each

    def call(self, context: Any, called: Any, *arguments: Any, **named: Any) -> Any:
        """Call what a template calls, counted."""
        self.count()
        return super().call(context, called, *arguments, **named)

    def _load_template(self, name: str, globals: Any) -> Any:
        self.templates += 1
        if self.templates > MOST_TEMPLATES:
            raise SecurityError(f"more than {MOST_TEMPLATES} templates are filled in for one sheet")
        return super()._load_template(name, globals)

    def is_safe_attribute(self, of: Any, name: str, value: Any) -> bool:
        """Say whether a template may read an attribute."""
        if isinstance(of, (str, bytes)) and name not in _OF_TEXT:
            return False
        return super().is_safe_attribute(of, name, value)

    def wrap_str_format(self, value: Any) -> None:
        """Refuse a text's own `format`, which fills out as `%` does; the sandbox would let it pass."""
        named = getattr(value, "__name__", "") in ("format", "format_map")
        if named and isinstance(getattr(value, "__self__", None), str):
            raise SecurityError("a text has no 'format' here; use the filter of that name")

    def call_binop(self, context: Any, operator: str, left: Any, right: Any) -> Any:
        """Reckon, within bounds."""
        texts = [each for each in (left, right) if not isinstance(each, (int, float))]
        if operator == "**" or (operator == "*" and texts):
            raise SecurityError(f"'{operator}' is not for templates of this kind")
        if operator == "%" and isinstance(left, str):
            return _format(left, *(right if isinstance(right, tuple) else (right,)))
        if operator == "+" and sum(len(each) for each in texts if hasattr(each, "__len__")) > LONGEST:
            raise SecurityError(_TOO_LONG)
        found = super().call_binop(context, operator, left, right)
        if isinstance(found, (int, float)) and abs(found) > _LARGEST:
            raise SecurityError(f"a number over {_LARGEST:.0e}")
        return found

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        tree = super()._parse(source, name, filename)
        for each in tree.find_all((nodes.ScopedEvalContextModifier, nodes.EvalContextModifier)):
            raise TemplateSyntaxError("escaping cannot be switched off or on", each.lineno, name, filename)
        for loop in list(tree.find_all(nodes.For)):
            loop.iter = nodes.Filter(loop.iter, "counted", [], [], None, None, lineno=loop.lineno)
        _shorten(tree)
        return tree


class _Loader(BaseLoader):
    """Gives the club's template of a name, else the house's, or that by its own name; nothing else."""

    def __init__(self, files: Sequence[OwnFile]) -> None:
        self.files = {each.name.rpartition("/")[2]: each for each in files}

    def get_source(self, environment: Any, template: str) -> tuple[str, str, Any]:
        """Return a template's text and where a message says it is."""
        own = self.files.get(template)
        if own:
            return own.content.decode("utf-8-sig"), own.name, None
        house = {each.name: each for each in folder("templates").glob("*.j2")}
        found = house.get(template.removeprefix(HOUSE))
        if found is None:
            raise TemplateNotFound(template)
        return found.read_text(encoding="utf-8"), str(found), None


def _shorten(tree: nodes.Node) -> None:
    """Bound every text that is joined by '~'."""
    for field, value in tree.iter_fields():
        below = value if isinstance(value, list) else [value]
        for i, each in enumerate(below):
            if not isinstance(each, nodes.Node):
                continue
            _shorten(each)
            if isinstance(each, nodes.Concat):
                short = nodes.Filter(each, "kept_short", [], [], None, None, lineno=each.lineno)
                if isinstance(value, list):
                    value[i] = short
                else:
                    setattr(tree, field, short)


_TOO_LONG = f"a text of more than {LONGEST:,} characters"


def _kept_short(text: Any) -> Any:
    if len(text) > LONGEST:
        raise SecurityError(_TOO_LONG)
    return text


def _range(*arguments: int) -> range:
    found = range(*arguments)
    if len(found) > MOST_ROUNDS:
        raise SecurityError(f"a range of more than {MOST_ROUNDS:,}")
    return found


def _format(form: str, *values: Any, **named: Any) -> Any:
    if _WIDE.search(form):
        raise SecurityError("a number or text filled out to 100 places or more")
    return form % (named or values)


@pass_eval_context
def _join(context: Any, parts: Iterable[Any], between: str = "", attribute: Any = None) -> Any:
    parts = list(parts)
    if len(parts) * len(between) + sum(len(str(each)) for each in parts) > LONGEST:
        raise SecurityError(_TOO_LONG)
    return do_join(context, parts, between, attribute)


@pass_eval_context
def _replace(context: Any, text: Any, old: str, new: str, count: int | None = None) -> Any:
    if (len(str(text)) + 1) * (len(str(new)) + 1) > LONGEST:
        raise SecurityError(_TOO_LONG)
    return do_replace(context, text, old, new, count)


def compiled(environment: OwnEnvironment, files: Sequence[OwnFile]) -> list[Problem]:
    """Return what is wrong with templates before they are filled, of each file the first."""
    problems = []
    for each in files:
        try:
            environment.compile(each.content.decode("utf-8-sig"), each.name.rpartition("/")[2], each.name)
        except TemplateSyntaxError as error:
            problems.append(Problem(each.name, error.lineno, 0, _sentence(error.message or ""), _UNDO))
        except RecursionError:
            problems.append(Problem(each.name, 0, 0, "it is nested too deeply", _UNDO))
    return problems


def filled_in(environment: OwnEnvironment, template: str, files: Sequence[OwnFile], values: Any) -> str:
    """Return a sheet made with a club's templates.

    Raises
    ------
    InputFault : they cannot be filled, or what they make would reach out of the sheet.
    """
    parts, size = [], 0
    try:
        for part in environment.get_template(template).generate(**values):
            size += len(part)
            if size > MOST_CHARACTERS:
                raise SecurityError(f"the sheet would have more than {MOST_CHARACTERS:,} characters")
            parts.append(part)
    except InputFault:
        raise
    except Exception as error:  # whatever strangers' templates end in is theirs, not ours
        raise InputFault([_placed(error, files)]) from None
    return "".join(parts)


def fenced(html: str, brief: Brief, *, for_screen: bool, fonts: Iterable[str]) -> str:
    """Return a sheet with a lock on it, if nothing in it reaches out of it and nothing is lost from it.

    Parameters
    ----------
    html : the sheet.
    brief : what it must show, and the templates that it was made with.
    for_screen : it is for a browser, and is read for what it must show; else its PDF is.
    fonts : the addresses that it may name besides: the typeface's.

    Raises
    ------
    InputFault : it has a script, an address, or a part of a page that can bring one; or lacks text of the Brief.
    """
    fence = _Fence(tuple(fonts))
    fence.feed(html)
    fence.close()
    wrong = [f"the sheet would have {each}" for each in dict.fromkeys(fence.found)]
    if for_screen:  # on paper the finished PDF is read back, drawings and all
        missing = lost("".join(fence.text), brief)
        wrong += ["; ".join(missing)] if missing else []
    if wrong:
        raise InputFault([blamed(brief.templates, each) for each in wrong])
    return _DOCTYPE.sub(lambda found: f"{found[0]}{_META}", html, count=1) if for_screen else html


def blamed(files: Sequence[OwnFile], message: str) -> Problem:
    """Return a problem that lies in a club's templates, in which of them is not known."""
    where = files[0].name if len(files) == 1 else files[0].name.rpartition("/")[0]
    message = " ".join(message.split())  # with no space that a line may not break at
    message = message if len(message) <= LONGEST_LINE else f"{message[:LONGEST_LINE]}…"
    return Problem(where, 0, 0, message, f"look in the club's own templates; {_UNDO}")


class _Fence(HTMLParser):
    """Gathers what of a page is no part of a sheet on paper."""

    def __init__(self, fonts: tuple[str, ...]) -> None:
        super().__init__()
        self.found: list[str] = []
        self.fonts = fonts
        self.text: list[str] = []  # that can be read

    def handle_starttag(self, tag: str, attributes: list[tuple[str, str | None]]) -> None:
        """Look at one tag."""
        given = {key: value or "" for key, value in attributes}
        if _REFUSED_TAGS.fullmatch(tag) or (tag == "meta" and "http-equiv" in given):
            self.found.append(f"<{tag}>")
        for key, value in given.items():
            if key.startswith("on") or key == "srcdoc":
                self.found.append(f"'{key}'")
            elif _REACHING.fullmatch(key) and not re.match(r"#|data:(image|font)/", value):
                self.found.append(f'{key}="{value[:60]}"')
            elif key == "rel" and "attachment" in value.lower():
                self.found.append("a file attached to it")
            self._styled(value)

    def handle_data(self, text: str) -> None:
        """Look at text, of which a style is some."""
        if self.cdata_elem == "style":
            self._styled(text)
        else:
            self.text.append(text)

    def _styled(self, text: str) -> None:
        text = _ESCAPED.sub(lambda found: chr(min(int(found[1], 16), 0xFFFF)) if found[1] else found[2], text)
        for url, imported in _URL.findall(_COMMENT.sub("", text)):
            reached = imported[1:] or url
            if imported or (not re.match(r"#|data:(image|font)/|attr\(", url) and not self._font(url)):
                self.found.append(f"an address in its style, '{reached}'")

    def _font(self, url: str) -> bool:
        return any(each.startswith(url) for each in self.fonts if len(url) >= min(60, len(each)))


def _placed(error: Exception, files: Sequence[OwnFile]) -> Problem:
    """Return the problem of a template that cannot be filled, at the innermost line of the club's own."""
    names = {each.name for each in files}
    line, where = 0, ""
    trace = error.__traceback__
    while trace:
        if trace.tb_frame.f_code.co_filename in names:
            where, line = trace.tb_frame.f_code.co_filename, trace.tb_lineno
        trace = trace.tb_next
    if isinstance(error, TemplateSyntaxError):
        where, line = error.filename or "", error.lineno
    said = {RecursionError: "it calls itself without end", TemplateNotFound: f"there is no template '{error}'"}
    message = said.get(type(error)) or (str(error) if isinstance(error, TemplateError) else f"it fails: {error}")
    if where in names:
        return Problem(where, line, 0, _sentence(message), _UNDO)
    return blamed(files, f"the sheet cannot be made with these templates: {_sentence(message)}")


def _sentence(message: str) -> str:
    """Return a message of the template library as one clause of a line, shortened."""
    words = " ".join(message.split()).rstrip(".")
    return re.sub(r"'briefgen\.[\w.]*?(\w+) object'", r"'\1'", words)[:300]
