"""A filed brief: what its PDF carries, that it is archival and tagged, and that a changed digit anywhere is found.

Sources: ISO 19005-3 (PDF/A-3) and ISO 14289-1 (PDF/UA-1) ask for what is asserted here, from memory; there is no
validator of either that could be installed. Read with pikepdf, another library than the one that wrote it.
"""

from __future__ import annotations

import io
import json
import shutil
from hashlib import sha256
from pathlib import Path

import pikepdf
import pytest
from conftest import EXAMPLE

from briefgen.brief import Brief
from briefgen.cli import main
from briefgen.model.given import Given, fingerprint
from briefgen.pipeline import brief_of
from briefgen.render import pdf
from briefgen.render.archive import RESULT, carried
from briefgen.render.pdf import render
from briefgen.render.proof import read_back
from briefgen.render.sheet import to_html

READ = [
    "aircraft/n0142.yaml",
    "papers/n0142.yaml",
    "pilots/instructor-a.yaml",
    "policy.yaml",
    "rules.yaml",
    "strips/pennywort-hill.yaml",
    "strips/quillmere.yaml",
    "strips/tansy-bottom.yaml",
    "trip.yaml",
]


@pytest.fixture(scope="module")
def club(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example, with few pages: every PDF of it is built twice."""
    club = Path(shutil.copytree(EXAMPLE, tmp_path_factory.mktemp("filed") / "club"))
    with (club / "policy.yaml").open("a", encoding="utf-8") as policy:
        policy.write("\npages: [takeoff, load]\n")
    return club


@pytest.fixture(scope="module")
def brief(club: Path) -> Brief:
    return brief_of(club / "trip.yaml", "trip.yaml")


@pytest.fixture(scope="module")
def filed(club: Path) -> Path:
    assert (
        main(["build", str(club / "trip.yaml"), "--prepared", "2026-05-16T14:20Z", "-o", str(club / "a.pdf")]) == 0
    )
    return club / "a.pdf"


def written(brief: Brief, target: Path, *, html: str = "", files: tuple[Given, ...] = ()) -> Path:
    """Write a PDF whose sheet or files are other than they should be."""
    sheet = html or to_html(brief, for_screen=False)
    target.write_bytes(render(sheet, files or carried(brief), brief.prepared))
    return target


def verified(pdf: Path, capsys: pytest.CaptureFixture[str]) -> tuple[int, str]:
    capsys.readouterr()
    status = main(["verify", str(pdf)])
    printed = capsys.readouterr()
    return status, printed.out + printed.err


def test_the_fingerprint_is_that_of_names_and_contents() -> None:
    """SHA-256 of 'name newline digest newline' of each file, by hashlib itself."""
    one, other = Given("b.yaml", b"2"), Given("a.yaml", b"1")
    lines = f"a.yaml\n{sha256(b'1').hexdigest()}\nb.yaml\n{sha256(b'2').hexdigest()}\n"
    assert fingerprint([one, other]) == fingerprint([other, one]) == sha256(lines.encode()).hexdigest()[:8]
    assert fingerprint([one]) != fingerprint([one._replace(name="c.yaml")])


def test_every_page_says_its_files_its_version_and_when(filed: Path, brief: Brief) -> None:
    _, texts, _ = read_back(filed.read_bytes())
    assert len(texts) >= 3
    for said in (f"{brief.fingerprint} v0.1.0", "As of 2026-05-16T14:00Z, prepared 2026-05-16T14:20Z."):
        assert [text for text in texts if said not in " ".join(text.split())] == []


def test_it_carries_all_that_it_was_worked_from_and_the_figures(filed: Path, club: Path) -> None:
    with pikepdf.open(filed) as document:
        found = {name: each.get_file().read_bytes() for name, each in document.attachments.items()}
        related = {str(each.UF): str(each.AFRelationship) for each in document.Root.AF}
    assert sorted(found) == sorted([*READ, RESULT])
    assert {name: content for name, content in found.items() if name != RESULT} == {
        name: (club / name).read_bytes() for name in READ
    }
    assert related == {**dict.fromkeys(READ, "/Source"), RESULT: "/Data"}
    figures = json.loads(found[RESULT])
    assert [each["name"] for each in figures["files"]] == ["trip.yaml", *READ[:-1]]
    assert figures["prepared"] == "2026-05-16T14:20Z"


def test_it_is_archival_and_tagged(filed: Path) -> None:
    with pikepdf.open(filed) as document:
        root, metadata = document.Root, document.open_metadata()
        assert (metadata["pdfaid:part"], metadata["pdfaid:conformance"]) == ("3", "A")
        assert metadata["pdfuaid:part"] == "1"
        assert metadata["dc:title"] == "Quillmere to Tansy Bottom"
        assert str(root.Lang) == "en"
        assert bool(root.MarkInfo.Marked)
        assert bool(root.ViewerPreferences.DisplayDocTitle)
        (intent,) = root.OutputIntents
        assert str(intent.S) == "/GTS_PDFA1"
        assert len(intent.DestOutputProfile.read_bytes()) > 1_000
        tags = list(elements(root.StructTreeRoot))
        fonts = [each for each in document.objects if is_font(each)]
        assert len(fonts) >= 2
        assert [each for each in fonts if not any(key in each for key in ("/FontFile2", "/FontFile3"))] == []
        assert "/Encrypt" not in document.trailer
        assert not any("/JS" in each or "/JavaScript" in each for each in dictionaries(document))
    kinds = [str(each.S) for each in tags]
    assert kinds.count("/H1") == 1
    assert {"/H2", "/P", "/Table", "/TR", "/TH", "/TD", "/Figure"} <= set(kinds)
    pictures = [each for each in tags if str(each.S) == "/Figure"]
    assert [each for each in pictures if not str(each.get("/Alt", ""))] == []


def elements(node: pikepdf.Object) -> list[pikepdf.Dictionary]:
    """Return the elements of the tree of tags, top down."""
    kids = node.get("/K", [])
    kids = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
    inner = [each for each in kids if isinstance(each, pikepdf.Dictionary) and "/S" in each]
    return [found for each in inner for found in (each, *elements(each))]


def dictionaries(document: pikepdf.Pdf) -> list[pikepdf.Dictionary]:
    return [each for each in document.objects if isinstance(each, pikepdf.Dictionary)]


def is_font(each: pikepdf.Object) -> bool:
    return isinstance(each, pikepdf.Dictionary) and str(each.get("/Type", "")) == "/FontDescriptor"


def test_a_brief_as_it_was_filed_reproduces_to_the_byte(filed: Path, capsys: pytest.CaptureFixture[str]) -> None:
    status, said = verified(filed, capsys)
    assert (status, said.splitlines()[-2:]) == (0, ["the PDF is the same to the byte", "every figure reproduces"])
    assert "9 files" in said


@pytest.mark.parametrize("name", [*READ, RESULT])
def test_one_changed_digit_of_a_file_is_found(
    filed: Path,
    tmp_path: Path,
    name: str,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """The sheet itself is not printed again here, which takes most of the time and finds nothing of it."""
    monkeypatch.setattr(pdf, "to_pdf", lambda _: filed.read_bytes())
    with pikepdf.open(filed) as document:
        text = document.attachments[name].get_file().read_bytes().decode()
        at = max(i for i, sign in enumerate(text) if sign.isdigit() and text[i - 1].isdigit())
        spoiled = (text[:at] + ("3" if text[at] != "3" else "4") + text[at + 1 :]).encode()
        document.attachments[name] = pikepdf.AttachedFileSpec(document, spoiled, filename=name)
        document.save(tmp_path / "a.pdf")
    status, said = verified(tmp_path / "a.pdf", capsys)
    assert status in (1, 2)  # 2 where it cannot even be worked
    assert status == 1 or name in said  # then the fault names the file
    if status == 1:
        wanted = "as filed" if name == RESULT else f"file {name}: not the one that the figures were worked from"
        assert wanted in said


@pytest.mark.parametrize(
    ("figure", "other"),
    [("1,590", "1,580"), ("+1,400", "+1,401"), ("44.85", "44.58"), ("50\u00a0kt", "51\u00a0kt")],
)
def test_one_changed_digit_of_a_printed_figure_is_found(
    brief: Brief, tmp_path: Path, figure: str, other: str, capsys: pytest.CaptureFixture[str]
) -> None:
    html = to_html(brief, for_screen=False)
    assert figure in html
    status, said = verified(written(brief, tmp_path / "a.pdf", html=html.replace(figure, other, 1)), capsys)
    assert status == 1
    assert f"{other.split(chr(160))[0]}" in said
    assert "as printed now" in said


def test_another_fingerprint_at_the_foot_is_found(
    brief: Brief, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    html = to_html(brief, for_screen=False)
    spoiled = html.replace(f'data-filed="{brief.fingerprint}', 'data-filed="00000000')
    assert spoiled != html
    status, said = verified(written(brief, tmp_path / "a.pdf", html=spoiled), capsys)
    assert status == 1
    assert f"'00000000' as filed, '{brief.fingerprint}' as printed now" in said


def test_other_bytes_with_the_same_texts_are_said_and_are_no_fault(
    filed: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with pikepdf.open(filed) as document:
        document.save(tmp_path / "saved.pdf")
    status, said = verified(tmp_path / "saved.pdf", capsys)
    assert status == 0
    assert "not the same to the byte; every text of it is" in said


def test_reopened_it_is_the_folder_that_it_was_built_from(
    filed: Path, club: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    capsys.readouterr()
    assert main(["reopen", str(filed), str(tmp_path / "again")]) == 0
    assert capsys.readouterr().out == f"{tmp_path / 'again' / 'trip.yaml'}\n"
    made = sorted(each.relative_to(tmp_path / "again").as_posix() for each in (tmp_path / "again").rglob("*.yaml"))
    assert made == READ
    assert [name for name in READ if (tmp_path / "again" / name).read_bytes() != (club / name).read_bytes()] == []
    assert main(["check", str(tmp_path / "again" / "trip.yaml")]) == 0
    assert main(["reopen", str(filed), str(tmp_path / "again")]) == 2
    assert "exists and is not an empty folder" in capsys.readouterr().err


@pytest.mark.parametrize("name", ["../escaped.yaml", "/escaped.yaml", "a/../../escaped.yaml", "c:escaped.yaml"])
def test_a_file_that_would_leave_the_folder_is_refused(
    brief: Brief, tmp_path: Path, name: str, capsys: pytest.CaptureFixture[str]
) -> None:
    target = tmp_path / "a.pdf"
    target.write_bytes(
        render(
            '<html lang="en"><title>a</title><h1>a</h1></html>',
            (*carried(brief), Given(name, b"a: 1")),
            brief.prepared,
        )
    )
    for arguments in (["reopen", str(target), str(tmp_path / "again")], ["verify", str(target)]):
        assert main(arguments) == 2
        assert "only a PDF that briefgen built" in capsys.readouterr().err
    assert not (tmp_path / "again").exists()


def test_what_is_no_brief_is_said_in_a_line(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    with io.BytesIO() as empty:
        blank = pikepdf.new()
        blank.add_blank_page()
        blank.save(empty)
        (tmp_path / "blank.pdf").write_bytes(empty.getvalue())
    (tmp_path / "text.pdf").write_text("no PDF", encoding="utf-8")
    for name in ("blank.pdf", "text.pdf", "missing.pdf"):
        assert main(["verify", str(tmp_path / name)]) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert name in line


def test_a_time_that_is_none_is_refused(club: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for time in ("2026-05-16", "2026-05-16T14:2Z", "2026-13-16T14:20Z"):
        with pytest.raises(SystemExit, match="2"):
            main(["build", str(club / "trip.yaml"), "--prepared", time, "-o", str(club / "b.pdf")])
        assert "is no time in UTC such as 2026-05-16T14:20Z" in capsys.readouterr().err
