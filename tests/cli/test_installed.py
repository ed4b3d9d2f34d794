"""The installed package works from any folder: what it needs is inside it."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import zipfile
from importlib.metadata import packages_distributions
from pathlib import Path

import pytest

from tests.support.drivers import ROOT
from tests.support.libraries import PROJECT, closure, named

ALONE = """
import sys

class Alone:
    def find_spec(self, name, path=None, target=None):
        package = name.partition(".")[0]
        if package in {others!r}:
            raise ModuleNotFoundError(f"No module named {{package!r}}", name=package)
        if package in ("cairocffi", "cairosvg"):
            raise OSError("no library called cairo-2 was found")

sys.meta_path.insert(0, Alone())
from publisher.cli import main
main()
"""
"""The program where nothing else is installed than it needs, nor the cairo library."""


def test_the_readmes_first_command_publishes_the_demo_on_a_machine_without_cairo(
    tmp_path: Path,
) -> None:
    """What it installs is the program alone; the test tools that are here are hidden from it."""
    command = next(
        line.strip()
        for line in (ROOT / "README.md").read_text("utf-8").splitlines()
        if line.startswith("    ")
    )
    venv, install, build = command.split(" && ")
    assert venv == "python3 -m venv .venv"
    assert install == ".venv/bin/pip install -q ."
    assert build == ".venv/bin/publisher build"
    shutil.copytree(ROOT / "patterns", tmp_path / "patterns")
    needed = closure(map(named, PROJECT["dependencies"]))
    owners = packages_distributions()
    others = {
        package
        for package, names in owners.items()
        if package != "publisher" and not needed & set(map(named, names))
    }
    assert {"pikepdf", "networkx", "fontTools", "pytest"} <= others
    done = subprocess.run(
        [sys.executable, "-c", ALONE.format(others=others), "build"],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(ROOT)},
        capture_output=True,
        text=True,
    )
    assert (done.returncode, done.stderr) == (0, "")
    patterns = [path for path in (tmp_path / "patterns").glob("*.toml") if path.stem != "house"]
    assert f"{len(patterns)} patterns: {len(patterns)} made, 0 failed" in done.stdout
    for pattern in patterns:
        assert len(list((tmp_path / "build" / pattern.stem).glob("*-booklet-a4.pdf"))) == 1


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
