"""A club's own look: its templates, logo, pages and sign-off, on a sheet that is proved like any other.

Source: the contract. What a template of a stranger must not do is written out here case by case; the ways out of a
page are those that HTML 5 and CSS have (from memory).
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from changed import changed, only
from conftest import EXAMPLE, ROOT

from briefgen.brief import Brief
from briefgen.cli import main
from briefgen.errors import CannotPrint, InputFault
from briefgen.pipeline import brief_of
from briefgen.render import pdf
from briefgen.render.data import to_json
from briefgen.render.pdf import render, to_pdf
from briefgen.render.proof import prove, read_back
from briefgen.render.sheet import to_html
from briefgen.render.text import summary

LOOK = """
letterhead: {name: Quillmere Flying Club, lines: [Hangar 2], logo: logo.svg}
sign_off: [pilot in command, instructor, duty officer]
extra_pages:
  - title: Before you leave the airplane
    after: takeoff
    text: |
      The gate is shut
      at night.

      - Control lock in.
      [ ] Key to the <b>box</b>.
  - {title: Local procedures, file: local.txt}
  - {title: Of a page that is not there, after: load, text: At the end.}
pages: [takeoff]
"""
LOGO = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 120 60"><circle cx="60" cy="30" r="25"/></svg>'
CAUTIONS = (ROOT / "templates" / "cautions.html.j2").read_text(encoding="utf-8")
Dressed = Callable[..., Path]


@pytest.fixture
def dressed(tmp_path: Path) -> Dressed:
    """A club with a look of its own, and templates by their names."""

    def make(look: str = LOOK, **templates: str) -> Path:
        club = tmp_path / "club"
        shutil.copytree(EXAMPLE, club)
        with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
            policy.write(look + ("templates: looks\n" if templates else ""))
        (club / "logo.svg").write_text(LOGO, encoding="utf-8")
        (club / "local.txt").write_text("Right hand circuits on 35.\n", encoding="utf-8")
        (club / "looks").mkdir()
        for name, text in templates.items():
            (club / "looks" / f"{name}.html.j2").write_text(text, encoding="utf-8")
        return club

    return make


def brief(club: Path) -> Brief:
    return brief_of(club / "trip.yaml", "trip.yaml")


def fault(make: Callable[[], object]) -> str:
    """Return the one line that something ends in."""
    with pytest.raises(InputFault) as caught:
        make()
    (line,) = caught.value.lines()
    return line


def test_the_club_s_template_is_printed_filed_verified_and_reopened(
    dressed: Dressed, capsys: pytest.CaptureFixture[str]
) -> None:
    club = dressed(cautions=f"{CAUTIONS}<p>Fly safely home, {{{{ brief.crew }}}}.</p>\n")
    target = club / "brief.pdf"
    assert main(["build", str(club / "trip.yaml"), "-o", str(target)]) == 0
    _, texts, _ = read_back(target.read_bytes())
    assert sum("Fly safely home, instructor and student." in text for text in texts) == 1
    capsys.readouterr()
    assert main(["verify", str(target)]) == 0
    assert "the PDF is the same to the byte" in capsys.readouterr().out
    assert main(["reopen", str(target), str(club / "again")]) == 0
    for name in ("looks/cautions.html.j2", "logo.svg", "local.txt"):
        assert (club / "again" / name).read_bytes() == (club / name).read_bytes()
    before = brief(club).fingerprint
    (club / "looks" / "cautions.html.j2").write_text(CAUTIONS, encoding="utf-8")
    assert brief(club).fingerprint != before


def test_a_template_that_drops_a_caution_or_an_item_is_refused_in_the_club_s_name(dressed: Dressed) -> None:
    dropped = CAUTIONS.replace("{{ each.text }}", "")
    assert dropped != CAUTIONS
    of = only(brief(dressed(cautions=dropped)), "takeoff")
    for make in (lambda: to_pdf(of), lambda: to_html(of, for_screen=True)):
        line = fault(make)
        assert line.startswith("looks/cautions.html.j2: ")
        assert "lost from the sheet: serious: If the flaps stay up" in line
        assert "look in the club's own templates" in line
        assert "fault of briefgen" not in line


def test_text_that_is_there_but_not_to_be_seen_is_refused(dressed: Dressed) -> None:
    hidden = CAUTIONS.replace("<section>", '<section style="display: none">')
    of = only(brief(dressed(cautions=hidden)), "takeoff")
    assert "lost from the sheet" in fault(lambda: to_pdf(of))


def test_what_the_pilot_types_stays_text(dressed: Dressed) -> None:
    club = dressed(cautions=f"{CAUTIONS}{{{{ brief.title }}}}")
    of = changed(only(brief(club), "takeoff"), title="<b>Quillmere</b>")
    assert "&lt;b&gt;Quillmere" in to_html(of, for_screen=True)
    assert "<b>Quillmere" not in to_html(of, for_screen=True)


GROWING = "{{% set n = namespace(x={}) %}}{{% for i in range(60) %}}{{% set n.x = n.x {} n.x %}}{{% endfor %}}"
DOUBLING = "{% macro f(n) %}{% if n %}{{ f(n - 1) }}{{ f(n - 1) }}{% endif %}{% endmacro %}{{ f(60) }}"
STYLED = ": the sheet would have an address in its style"
# What a template must not do, each with what is said of it.
REFUSED = [
    ("{{ brief.nothing }}", ":25 'Brief' has no attribute 'nothing'"),
    ("{{ nothing }}", ":25 'nothing' is undefined"),
    ("{{ brief.__class__ }}", ":25 access to attribute '__class__'"),
    ("{{ '{:9999999999}'.format(1) }}", ":25 a text has no 'format' here"),
    ("{{ 'a'.center(9999999999) }}", ":25 access to attribute 'center'"),
    ("{{ ['a'] | map('center', 9999999999) | list }}", ":25 No filter named 'center'"),
    ("{{ brief.facts.update({}) }}", ":25 "),
    ("{{ ''.__class__.__mro__ }}", ":25 access to attribute '__class__'"),
    ("{% include '../policy.yaml' %}", ":25 there is no template '../policy.yaml'"),
    ("{% include '/etc/hostname' %}", ":25 there is no template '/etc/hostname'"),
    ("{% include 'audit.html.j2/../../policy.yaml' %}", ":25 there is no template"),
    ("{% include 'house/../policy.yaml' %}", ":25 there is no template"),
    ("{{ 1 / 0 }}", ":25 it fails: division by zero"),
    ("{% for a in range(99999) %}{% for b in range(99999) %}{% endfor %}{% endfor %}", ":25 it goes round more"),
    ("{% for a in range(10 ** 9) %}{% endfor %}", ":25 '**' is not for templates"),
    ("{% for a in range(999999) %}{% endfor %}", ":25 a range of more than"),
    ("{% macro f(n) %}{{ f(n) }}{% endmacro %}{{ f(1) }}", ":25 it calls itself without end"),
    (
        "{% macro f(n) %}{% if n %}{{ f(n - 1) }}{{ f(n - 1) }}{% endif %}{% endmacro %}{{ f(60) }}",
        ":25 it goes round",
    ),
    ("{% include 'cautions.html.j2' %}", ":1 more than 150 templates"),
    ("{{ 'a' * 9999999999 }}", ":25 '*' is not for templates"),
    ("{{ '%09999999999d' % 1 }}", ":25 a number or text filled out"),
    ("{{ '%09999999999d' | format(1) }}", ":25 a number or text filled out"),
    (
        "{% set n = namespace(x='ab') %}{% for i in range(60) %}{% set n.x = n.x ~ n.x %}{% endfor %}",
        ":25 a text of",
    ),
    (
        "{% set n = namespace(x='ab') %}{% for i in range(60) %}{% set n.x = n.x + n.x %}{% endfor %}",
        ":25 a text of",
    ),
    (
        "{% set n = namespace(x=9) %}{% for i in range(60) %}{% set n.x = n.x * n.x %}{% endfor %}",
        ":25 a number over",
    ),
    ("{{ range(2000) | join('a' ~ brief.standing ~ brief.items) }}", ":25 a text of"),
    ("{% for a in range(99999) %}{{ brief.standing }}{% endfor %}", ": the sheet cannot be made"),
    ("<img src='http://club.example/a.png'>", ': the sheet would have src="http://club.example/a.png"'),
    ("<img src='file:///etc/hostname'>", ": the sheet would have src="),
    ("<img src='../logo.svg'>", ': the sheet would have src="../logo.svg"'),
    ("<img src='//club.example/a.png'>", ": the sheet would have src="),
    ("<a href='javascript:a()'>a</a>", ": the sheet would have href="),
    ("<link>", ": the sheet would have <link>"),
    ("<a rel=attachment href='#a'>a</a>", ": the sheet would have a file attached to it"),
    ("<style>@import 'http://club.example/a.css';</style>", STYLED),
    (
        "<style>p { background: u\\72l(http://club.example/a) }</style>",
        ": the sheet would have an address in its style",
    ),
    ("<p style='background: url(../logo.svg)'>a</p>", STYLED),
    ("<script>a()</script>", ": the sheet would have <script>"),
    ("<p onclick='a()'>a</p>", ": the sheet would have 'onclick'"),
    ("<meta http-equiv=refresh content='0;url=http://club.example'>", ": the sheet would have "),
]


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Brief:
    """The example, by a template of its own."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path_factory.mktemp("plain") / "club"))
    (club / "looks").mkdir()
    (club / "looks" / "cautions.html.j2").write_text(CAUTIONS, encoding="utf-8")
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write("\npages: [takeoff]\ntemplates: looks\n")
    return brief(club)


@pytest.mark.parametrize(("line", "said"), REFUSED, ids=[str(i) for i in range(len(REFUSED))])
def test_a_template_is_kept_from_what_is_not_its_own(plain: Brief, line: str, said: str) -> None:
    assert CAUTIONS.count("\n") == 24
    (file,) = plain.templates
    of = changed(plain, templates=(file._replace(content=f"{CAUTIONS}{line}\n".encode()),))
    told = fault(lambda: to_html(of, for_screen=True))
    assert told.startswith(f"looks/cautions.html.j2{said}"), told
    assert len(told) < 700


def test_a_macro_that_is_missing_is_laid_to_the_club_s_template(plain: Brief) -> None:
    (file,) = plain.templates
    of = changed(plain, templates=(file._replace(name="looks/parts.html.j2", content=b"<p>\n"),))
    assert fault(lambda: to_html(of, for_screen=True)).startswith("looks/parts.html.j2: the sheet cannot be made")


def test_the_last_line_of_defence_is_the_fetcher(plain: Brief, monkeypatch: pytest.MonkeyPatch) -> None:
    """Past the look through it, an address is still not opened, and that is laid to the club's template."""
    reaching = "<img alt=a src='http://club.example/a.png'>"
    monkeypatch.setattr(pdf, "to_html", lambda *_, **__: f"<html lang=en><title>a</title><h1>a</h1>{reaching}")
    line = fault(lambda: to_pdf(plain))
    assert line.startswith("looks/cautions.html.j2: the sheet asks for something that it may not open")
    with pytest.raises(CannotPrint, match="may not open"):
        to_pdf(changed(plain, templates=()))


def test_a_sheet_for_the_screen_tells_the_browser_to_open_nothing(plain: Brief) -> None:
    lock = "default-src 'none'"
    html = to_html(plain, for_screen=True)
    assert html.index(lock) < html.index("<head>")
    assert lock not in to_html(changed(plain, templates=()), for_screen=True)


def test_the_same_template_gives_the_same_sheet(plain: Brief) -> None:
    """The house's own template, by the club: word for word what it is without."""
    without = to_html(changed(plain, templates=()), for_screen=False)
    assert to_html(plain, for_screen=False) == without


def test_the_small_template_of_the_readme_is_a_good_one(plain: Brief) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    (style,) = re.findall(r"```css\n(.*?)```", readme, re.DOTALL)
    (file,) = plain.templates
    own = (file._replace(name="looks/sheet.css.j2", content=style.encode()),)
    html = to_html(changed(plain, templates=own), for_screen=True)
    assert html.index(".title { font-size: 15pt;") < html.index(".title { font-size: 18pt; }")
    assert "{%" not in html


def test_faults_of_a_template_are_told_by_the_command_in_one_line(
    dressed: Dressed, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    club = dressed(cautions="<p>\n{{ brief.nothing }}\n")
    monkeypatch.chdir(club)
    assert main(["build", "trip.yaml", "-o", "brief.html"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("looks/cautions.html.j2:2 'Brief' has no attribute 'nothing'; ")
    assert not (club / "brief.html").exists()


def test_logo_sign_off_and_pages_stand_where_they_should_and_are_proved(dressed: Dressed) -> None:
    of = brief(dressed())
    html = to_html(of, for_screen=False)
    content = render(html)
    prove(content, of, [])
    _, texts, _ = read_back(content)
    assert '<img class="club" alt="Quillmere Flying Club" src="data:image/svg+xml;base64,' in html
    assert all(each in texts[0] for each in ("pilot in command", "instructor", "duty officer"))
    assert "reviewed by" not in texts[0]
    at = [
        next(n for n, text in enumerate(texts) if title in text)
        for title in ("Takeoff: Quillmere", "Before you leave", "Local procedures", "Of a page that is not there")
    ]
    assert at == [at[0], at[0] + 1, at[0] + 2, at[0] + 3]
    assert at[-1] == len(texts) - 1
    assert "The gate is shut at night." in " ".join(texts[at[1]].split())
    assert "Key to the <b>box</b>." in texts[at[1]]
    for lost in ("duty officer", "Right hand circuits on 35.", "Local procedures"):
        with pytest.raises(CannotPrint, match=f"lost from the sheet: {lost}"):
            prove(render(html.replace(lost, "")), of, [])


def test_they_are_in_the_other_outputs(dressed: Dressed) -> None:
    of = brief(dressed())
    text = summary(of)
    assert (
        "\nBefore you leave the airplane\n  The gate is shut at night.\n  - Control lock in.\n  [ ] Key to" in text
    )

    data = json.loads(to_json(of))
    assert data["letterhead"] == {"name": "Quillmere Flying Club", "lines": ["Hangar 2"], "logo": "logo.svg"}
    assert data["sign_off"] == ["pilot in command", "instructor", "duty officer"]
    assert data["extra_pages"][1] == {
        "title": "Local procedures",
        "after": None,
        "parts": [{"kind": "paragraph", "text": "Right hand circuits on 35."}],
    }
    assert data["templates"] == []


def test_the_longest_sign_off_stays_at_the_foot(dressed: Dressed) -> None:
    of = only(brief(dressed("\npages: [takeoff]\n")), "takeoff")
    for size in ("half letter", "A4"):
        widest = changed(of, page_size=size, sign_off=("W" * 32, "M" * 32, "W" * 31, "MW" * 16))
        _, texts, boxes = read_back(to_pdf(widest))
        foot = [box.bottom for box in boxes if box.page == 1 and "WWWW" in box.text]
        assert max(foot) < 110  # points: the lower 4 cm
        assert len(texts) > 1


def test_extra_pages_of_the_club_and_of_the_pilot_are_both_printed(dressed: Dressed) -> None:
    club = dressed()
    with (club / "pilot.yaml").open("a", encoding="utf-8") as pilot:
        pilot.write("\nextra_pages: [{title: My own list, text: '[ ] Glasses.'}]\nsign_off: [me]\n")
    trip = club / "trip.yaml"
    text = trip.read_text(encoding="utf-8")
    trip.write_text(
        text.replace("policy: policy.yaml", "policy: policy.yaml\npersonal: pilot.yaml"), encoding="utf-8"
    )
    of = brief(club)
    assert [page.title for page in of.extra_pages][-1] == "My own list"
    assert of.sign_off[-1] == "duty officer"
    whose = {each.label: each.whose for each in of.standard}
    assert whose["a page of its own: My own list"] == "a student's minimums"
    assert whose["signed by"] == "Quillmere club standard"
