"""The commands as their user meets them: what they print where, what they write, how they end."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from briefgen import __version__
from briefgen.cli import main

Captured = pytest.CaptureFixture[str]


@pytest.fixture
def club(example: Path, tmp_path: Path) -> Path:
    """A copy of the example club's folder."""
    return Path(shutil.copytree(example.parent, tmp_path / "club"))


def run(*arguments: str, **environment: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "briefgen", *arguments]
    return subprocess.run(command, capture_output=True, text=True, env={**os.environ, **environment}, check=False)


def test_help_names_every_command_and_exit_status(capsys: Captured) -> None:
    with pytest.raises(SystemExit) as ended:
        main(["--help"])
    assert ended.value.code == 0
    text = capsys.readouterr().out
    for words in ("check", "build", "explain", "new", "exit status", "\n  3 "):
        assert words in text


def test_no_command_prints_the_help(capsys: Captured) -> None:
    assert main([]) == 0
    assert "usage: briefgen" in capsys.readouterr().out


def test_version(capsys: Captured) -> None:
    with pytest.raises(SystemExit):
        main(["--version"])
    assert capsys.readouterr().out == f"briefgen {__version__}\n"


def test_check_prints_the_counts_and_what_does_not_meet_policy(example: Path, capsys: Captured) -> None:
    assert main(["check", str(example)]) == 0
    printed = capsys.readouterr()
    assert printed.out == (
        f"{example}: 21 meets policy, 1 under policy, 2 short, 0 not shown\n"
        "under policy: landing\nshort: landing-flaps-up, landing-partial\n"
    )
    assert printed.err == ""


@pytest.mark.parametrize(("state", "status"), [("under", 1), ("short", 1), ("not-shown", 0)])
def test_fail_on_includes_everything_worse(example: Path, state: str, status: int) -> None:
    """The example has items under policy and short, none not shown."""
    assert main(["check", str(example), "--fail-on", state]) == status


def test_fail_on_counts_what_is_not_shown_as_the_worst(club: Path) -> None:
    trip = club / "trip.yaml"
    trip.write_text(trip.read_text(encoding="utf-8").replace("policy: policy.yaml\n", ""), encoding="utf-8")
    assert main(["check", str(trip), "--fail-on", "not-shown"]) == 1


@pytest.mark.parametrize("ending", ["html", "json", "txt"])
def test_build_says_what_it_wrote_and_leaves_nothing_else(
    example: Path, tmp_path: Path, capsys: Captured, ending: str
) -> None:
    target = tmp_path / f"brief.{ending}"
    assert main(["build", str(example), "-o", str(target)]) == 0
    assert capsys.readouterr().out == f"{target}\n"
    assert list(tmp_path.iterdir()) == [target]


def test_build_refuses_an_ending_it_cannot_write(example: Path, tmp_path: Path, capsys: Captured) -> None:
    assert main(["build", str(example), "-o", str(tmp_path / "brief.docx")]) == 2
    assert "the ending must be one of .pdf, .html, .json, .txt" in capsys.readouterr().err


def test_build_refuses_a_folder_that_is_not_there(example: Path, tmp_path: Path, capsys: Captured) -> None:
    assert main(["build", str(example), "-o", str(tmp_path / "none" / "brief.txt")]) == 2
    assert "there is no such folder" in capsys.readouterr().err


def test_a_bad_trip_leaves_the_last_good_sheet_alone_and_says_so(
    club: Path, tmp_path: Path, capsys: Captured
) -> None:
    target, trip = tmp_path / "brief.txt", club / "trip.yaml"
    assert main(["build", str(trip), "-o", str(target)]) == 0
    before = target.read_bytes()
    trip.write_text(
        trip.read_text(encoding="utf-8").replace("weight: 2450 lb", "weight: 2950 lb"), encoding="utf-8"
    )
    assert main(["build", str(trip), "-o", str(target)]) == 2
    assert target.read_bytes() == before
    assert capsys.readouterr().err.startswith(f"{target} is still the one from an earlier build\n")


def test_explain_prints_every_figure_s_working(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example)]) == 0
    text = capsys.readouterr().out
    for words in ("Takeoff over 50 ft", "Landing, flaps up", "Abort point", "Handbook p. 5-20 note 4"):
        assert words in text
    assert "\033" not in text


def test_explain_one_item_ends_with_its_state(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example), "landing-flaps-up"]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == "  state: short"


def test_explain_suggests_the_item_that_was_meant(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example), "landing-flap-up"]) == 2
    assert "did you mean 'landing-flaps-up'?" in capsys.readouterr().err


def test_explain_lists_the_items_where_none_is_near(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example), "xyzzy"]) == 2
    assert "the items are balance, takeoff-weight" in capsys.readouterr().err


def test_new_makes_a_folder_that_builds(tmp_path: Path, capsys: Captured) -> None:
    folder = tmp_path / "mine"
    assert main(["new", str(folder)]) == 0
    assert capsys.readouterr().out == f"{folder}/trip.yaml\n"
    assert main(["check", str(folder / "trip.yaml")]) == 0
    for file in folder.rglob("*.yaml"):
        first = file.read_text(encoding="utf-8").splitlines()[0]
        schema = first.removeprefix("# yaml-language-server: $schema=")
        assert (file.parent / schema).is_file(), f"{file} names {schema}"


def test_new_never_writes_over_anything(tmp_path: Path, capsys: Captured) -> None:
    (tmp_path / "kept.txt").write_text("mine", encoding="utf-8")
    assert main(["new", str(tmp_path)]) == 2
    assert "nothing was written" in capsys.readouterr().err
    assert [each.name for each in tmp_path.iterdir()] == ["kept.txt"]


def test_colour_only_on_a_terminal_that_wants_it(example: Path) -> None:
    import pty

    def on_a_terminal(**environment: str) -> bytes:
        master, slave = pty.openpty()
        command = [sys.executable, "-m", "briefgen", "explain", str(example), "landing"]
        clean = {key: value for key, value in os.environ.items() if key not in ("NO_COLOR", "TERM")}
        with subprocess.Popen(command, stdout=slave, env={**clean, "TERM": "xterm", **environment}) as process:
            os.close(slave)
            text = b""
            while True:
                try:
                    part = os.read(master, 65536)
                except OSError:  # how a pseudo-terminal says that its other end is closed
                    break
                if not part:
                    break
                text += part
            process.wait()
        os.close(master)
        return text

    assert b"\033[1m" in on_a_terminal()
    assert b"\033" not in on_a_terminal(NO_COLOR="1")
    assert b"\033" not in on_a_terminal(TERM="dumb")


def test_a_reader_that_stops_early_sees_no_traceback(example: Path) -> None:
    command = f"{sys.executable} -m briefgen explain {example} | head -n 1"
    ended = subprocess.run(["sh", "-c", command], capture_output=True, text=True, check=False)
    assert ended.stdout
    assert ended.stderr == ""


def test_check_imports_nothing_that_only_a_sheet_needs(example: Path) -> None:
    heavy = "{'jinja2', 'weasyprint', 'pypdfium2', 'numpy', 'pint', 'briefgen.brief', 'briefgen.render.sheet'}"
    code = (
        "import sys; from briefgen.cli import main; main(['check', sys.argv[1]]); "
        f"print(*sorted(set(sys.modules) & {heavy}))"
    )
    ended = subprocess.run([sys.executable, "-c", code, str(example)], capture_output=True, text=True, check=True)
    assert ended.stdout.splitlines()[-1] == ""


def test_an_unwritable_target_ends_plainly(example: Path, capsys: Captured) -> None:
    assert main(["build", str(example), "-o", "/proc/brief.txt"]) == 2
    assert "cannot be written" in capsys.readouterr().err


def test_a_wrong_command_ends_with_status_2() -> None:
    assert run("chek").returncode == 2


def test_rules_lists_every_rule_with_its_citation(capsys: Captured) -> None:
    from briefgen.rules.engine import PACKS
    from briefgen.rules.pack import read_pack

    assert main(["rules"]) == 0
    text = " ".join(capsys.readouterr().out.split())
    for rule in read_pack(PACKS / "base.yaml", "base.yaml"):
        assert f"{rule.id} ({rule.severity})" in text
        assert f"[{rule.source}; checked {rule.checked}]" in text


@pytest.mark.parametrize(
    ("rule", "expected"),
    [
        (
            "gusts",
            [
                "gusts fires: ",
                "all of these: holds",
                "gusts.additive_kt is 2; wanted: a number, more than 0: holds",
                "gusts.cost_ft is 75; wanted: a number: holds",
            ],
        ),
        (
            "flaps-up-increase",
            [
                "does not fire",
                "not this: does not hold",
                'items.landing_flaps_up is "short"; wanted: exactly "short": holds',
            ],
        ),
        ("takeoff-short", ["does not fire", "any of these: does not hold"]),
        ("abort-criteria", ["abort-criteria fires, but is folded into abort-past-liftoff: Stop the takeoff"]),
    ],
)
def test_rules_says_why(example: Path, capsys: Captured, rule: str, expected: list[str]) -> None:
    """By hand: half of a 4-kt gust factor; 1,092.4 ft less 1,020.8 at the table's speed is 71.6, printed 75."""
    assert main(["rules", "--why", rule, str(example)]) == 0
    text = capsys.readouterr().out
    for words in expected:
        assert words in text


@pytest.mark.parametrize(
    ("words", "expected"),
    [
        (["--why", "gust", "TRIP"], "there is no rule 'gust'; did you mean 'gusts'?"),
        (["--why", "gusts"], "--why ID needs a TRIP to look at"),
    ],
)
def test_rules_asked_wrongly_ends_plainly(example: Path, capsys: Captured, words: list[str], expected: str) -> None:
    assert main(["rules", *(str(example) if word == "TRIP" else word for word in words)]) == 2
    assert expected in capsys.readouterr().err


def test_rules_with_a_trip_lists_those_in_force_the_club_s_own_among_them(example: Path, capsys: Captured) -> None:
    assert main(["rules", str(example)]) == 0
    text = capsys.readouterr().out
    assert text.startswith(f"in force on {example}: ")
    assert "club-grass-with-students (watch)" in text
    assert "eu-uk-steep-slope" not in text  # its pack is not chosen
    assert main(["rules", "--why", "club-grass-with-students", str(example)]) == 0
    assert capsys.readouterr().out.startswith("club-grass-with-students fires: ")
    assert main(["rules", "--why", "eu-uk-landing-over-seventy-percent", str(example)]) == 0
    assert "fires, but its pack is not chosen by the policy of this trip: " in capsys.readouterr().out


def test_explain_gives_no_figure_a_heading_without_its_working(example: Path, capsys: Captured) -> None:
    """An item without a factor has one need, not a second one under policy."""
    assert main(["explain", str(example), "landing-crosswind"]) == 0
    assert capsys.readouterr().out.count("\n  crosswind, landing") == 1


def test_explain_says_what_stands_in_for_a_setting_without_a_table(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example)]) == 0
    after = capsys.readouterr().out.split("\nLanding, flaps 20\n")[1]
    assert after.startswith("  The handbook has no figures for this setting: the flaps-up distance and speed")


def test_facts_explains_one_or_a_group(example: Path, capsys: Captured) -> None:
    assert main(["facts", str(example), "gusts.cost_ft"]) == 0
    said = capsys.readouterr().out
    assert said.startswith("gusts.cost_ft: 75\n  by how much the speed above the table's")
    assert main(["facts", str(example), "gusts"]) == 0
    assert capsys.readouterr().out.count("gusts.") == 2
    assert main(["facts", str(example), "gust"]) == 2
    assert "there is no fact 'gust'" in capsys.readouterr().err


def test_explain_balance_gives_the_loading_sheet(example: Path, capsys: Captured) -> None:
    assert main(["explain", str(example), "balance"]) == 0
    said = capsys.readouterr().out
    assert "  empty airplane             1,632.0    39.2    63,974" in said  # 1632 x 39.2 = 63,974.4
    assert "state: meets policy" in said
    assert "not shown" not in said


def test_runways_ranks_and_marks_the_trip_s_own(example: Path, capsys: Captured) -> None:
    assert main(["runways", str(example)]) == 0
    said = capsys.readouterr().out
    for words in (
        "Takeoff at Quillmere, departure",
        "Landing at Tansy Bottom, arrival",
        "Landing at Pennywort Hill",
    ):
        assert words in said
    assert said.count("the trip's own") == 3
    assert main(["runways", str(example), "--at", "arrival"]) == 0
    only = capsys.readouterr().out
    assert "Landing at Tansy Bottom" in only
    assert "Quillmere, departure" not in only


def test_runways_asked_for_a_place_that_is_none_suggests_one(example: Path, capsys: Captured) -> None:
    assert main(["runways", str(example), "--at", "arival"]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert printed.err == "briefgen runways: there is no place 'arival'; did you mean 'arrival'?\n"
    assert main(["runways", str(example), "--at", "xyzzy"]) == 2
    assert "the places are departure, arrival, alternate, all" in capsys.readouterr().err


def test_runways_at_an_alternate_that_is_not_given_ends_plainly(example: Path, capsys: Captured) -> None:
    assert main(["runways", str(example.with_name("solo.yaml")), "--at", "alternate"]) == 2
    assert "the trip file gives no 'alternate'; add 'alternate'" in capsys.readouterr().err


def test_runways_fails_on_the_ends_that_the_trip_has_chosen(example: Path, capsys: Captured) -> None:
    """17 meets policy all through; 09 is short with the flaps up; that 35 is not shown is no matter of the trip."""
    assert main(["runways", str(example), "--at", "departure", "--fail-on", "under"]) == 0
    assert main(["runways", str(example), "--at", "arrival", "--fail-on", "short"]) == 1
    assert main(["runways", str(example), "--fail-on", "not-shown"]) == 0
    assert capsys.readouterr().err == ""


def test_runways_tells_the_faults_of_the_file(club: Path, capsys: Captured) -> None:
    trip = club / "trip.yaml"
    trip.write_text(trip.read_text(encoding="utf-8").replace('runway: "17"', 'runway: "18"'), encoding="utf-8")
    assert main(["runways", str(trip)]) == 2
    printed = capsys.readouterr()
    assert printed.out == ""
    assert "Quillmere has no runway '18'" in printed.err


def test_a_name_of_nothing_is_answered_by_the_nearest_or_by_where_all_are_listed(
    example: Path, capsys: Captured
) -> None:
    """A group of facts is a name too; a list of hundreds would not be read."""
    for path, hint in (
        ("landing.planed", "did you mean 'landing.planned'?"),
        ("xyz", "all are listed by: briefgen facts TRIP"),
    ):
        assert main(["facts", str(example), path]) == 2
        assert capsys.readouterr().err == f"briefgen facts: there is no fact '{path}'; {hint}\n"
    assert main(["rules", "--why", "xyz", str(example)]) == 2
    assert capsys.readouterr().err == (
        "briefgen rules: there is no rule 'xyz'; all are listed by: briefgen rules TRIP\n"
    )
