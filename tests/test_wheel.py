"""The built wheel, with the source tree out of reach: what a user installs works as the checkout does."""

from __future__ import annotations

import os
import subprocess
import sys
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent


def test_the_wheel_makes_a_folder_and_builds_its_brief(tmp_path: Path) -> None:
    build = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / "dist")]
    subprocess.run(build, cwd=ROOT, check=True, capture_output=True)
    (wheel,) = (tmp_path / "dist").glob("*.whl")
    with zipfile.ZipFile(wheel) as archive:
        archive.extractall(tmp_path / "installed")
        assert not [name for name in archive.namelist() if name.startswith("tests")]
    environment = {**os.environ, "PYTHONPATH": str(tmp_path / "installed")}

    def run(*arguments: str) -> str:
        command = [sys.executable, "-m", "briefgen", *arguments]
        ended = subprocess.run(command, cwd=tmp_path, env=environment, capture_output=True, text=True, check=False)
        assert ended.returncode == 0, ended.stderr
        return ended.stdout

    where = [sys.executable, "-c", "import briefgen; print(briefgen.__file__)"]
    found = subprocess.run(where, cwd=tmp_path, env=environment, capture_output=True, text=True, check=True).stdout
    assert found.startswith(str(tmp_path / "installed"))
    run("new", "mine")
    run("build", "mine/trip.yaml", "-o", "brief.html")
    assert "Tansy Bottom" in (tmp_path / "brief.html").read_text(encoding="utf-8")
