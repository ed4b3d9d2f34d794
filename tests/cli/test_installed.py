"""The installed package works from any folder: what it needs is inside it."""

from __future__ import annotations

import subprocess
import sys
import zipfile
from pathlib import Path

import pytest
from drivers import ROOT


def test_wheel_publishes_from_any_folder(tmp_path: Path) -> None:
    pytest.importorskip("hatchling")
    wheel = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path)]
    subprocess.run(wheel, cwd=ROOT, check=True, capture_output=True)
    (built,) = tmp_path.glob("*.whl")
    inside = tmp_path / "installed"
    zipfile.ZipFile(built).extractall(inside)
    workshop = tmp_path / "workshop"
    workshop.mkdir()

    def call(*words: str) -> str:
        done = subprocess.run(
            [sys.executable, "-c", "from publisher.cli import main; main()", *words],
            cwd=workshop,
            env={"PYTHONPATH": str(inside)},
            capture_output=True,
            text=True,
        )
        assert (done.returncode, done.stderr) == (0, "")
        return done.stdout

    assert "made patterns/mill-pond.toml" in call("new", "mill-pond")
    assert "1 pattern: 1 made, 0 failed" in call("build", "--edition", "large-print")
    assert len(list(workshop.glob("build/mill-pond/*-large-print-a4.pdf"))) == 1
    names = zipfile.ZipFile(built).namelist()
    (about,) = (name for name in names if name.endswith(".dist-info/METADATA"))
    metadata = zipfile.ZipFile(built).read(about).decode()
    assert "\nLicense-Expression: MIT\n" in metadata
    assert f"{Path(about).parent}/licenses/publisher/LICENSE" in names
    templates = {
        path.relative_to(ROOT / "templates").as_posix()
        for path in (ROOT / "templates").rglob("*.*")
    }
    assert templates <= {name.removeprefix("publisher/_templates/") for name in names}
    assert not [name for name in names if "__pycache__" in name or name.startswith("tests")]
