"""Consoles that can't show every character, have no colours, or pass on another encoding."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support.drivers import ROOT, publisher
from tests.support.terminal import on_terminal

CHART = """format = 1
title = "Åsa’s “Reeds” – ½ × 2 →"
version = "1.0"

[colours.N]
name = "night navy"
srgb = "#1f2a44"
yarn = "cotton"

[yarns.cotton]
name = "3 mm cotton"
diameter_mm = 3.0
grams_per_metre = 4.6

[[pieces]]
id = "panel"
kind = "chart"
chart = \"\"\"
NNN
NNN
\"\"\"
"""
CODE_PAGES = ["cp437", "cp850", "cp1252"]
"""A console of Windows in America and in Europe, and a pipe there."""


@pytest.fixture
def workshop(tmp_path: Path) -> Path:
    (tmp_path / "patterns").mkdir()
    (tmp_path / "patterns/reeds.toml").write_text(CHART, "utf-8")
    return tmp_path


def said(folder: Path, code_page: str, *words: str) -> tuple[int, str, str]:
    """Exit status and what is said, as a console of this code page shows it."""
    done = subprocess.run(
        [sys.executable, "-m", "publisher", *words],
        cwd=folder,
        env={**os.environ, "PYTHONPATH": str(ROOT), "PYTHONIOENCODING": code_page},
        capture_output=True,
        timeout=120,
    )
    return done.returncode, done.stdout.decode(code_page), done.stderr.decode(code_page)


@pytest.mark.parametrize("code_page", CODE_PAGES)
def test_what_a_console_lacks_is_said_in_ascii(workshop: Path, code_page: str) -> None:
    status, plan, errors = said(workshop, code_page, "plan", "reeds")
    assert (status, errors) == (0, "")
    in_full = publisher(workshop, "plan", "reeds", PYTHONIOENCODING="utf-8").stdout
    assert "→" in in_full and "“Reeds”" in in_full
    assert "“" in plan if code_page == "cp1252" else '"Reeds"' in plan
    assert "→" not in plan and "?" not in plan
    assert len(plan.splitlines()) == len(in_full.splitlines())


@pytest.mark.parametrize("code_page", CODE_PAGES)
def test_problems_are_said_on_any_console(workshop: Path, code_page: str) -> None:
    text = CHART.replace('srgb = "#1f2a44"', 'srgb = "№1”"')
    (workshop / "patterns/reeds.toml").write_text(text, "utf-8")
    status, out, errors = said(workshop, code_page, "check")
    assert status == 1 and "1 problem" in out
    assert errors.startswith(f"patterns{os.sep}reeds.toml:7: ")
    assert errors.count("\n") == 1 and "Traceback" not in errors


@pytest.mark.parametrize("code_page", [*CODE_PAGES, "utf-16-le", "utf-8"])
def test_programs_get_the_same_json_through_any_pipe(workshop: Path, code_page: str) -> None:
    status, plan, errors = said(workshop, code_page, "plan", "reeds", "--json")
    assert (status, errors) == (0, "")
    assert json.loads(plan)["title"] == "Åsa’s “Reeds” – ½ × 2 →"
    status, summary, _ = said(workshop, code_page, "build", "--json", "--edition", "plain-text")
    assert status == 0
    assert json.loads(summary)["failed"] == []


def on_a_terminal(folder: Path, **environment: str) -> str:
    """All that a build shows on a terminal of 80 columns."""
    usual = {"PYTHONPATH": str(ROOT), "COLUMNS": "80", "TERM": "xterm-256color"}
    command = [sys.executable, "-m", "publisher", "build"]
    shown, status = on_terminal(command, folder, {**usual, **environment}, 120)
    assert status == 0
    return shown.decode(environment.get("PYTHONIOENCODING", "utf-8"))


COLOUR = re.compile("\x1b\\[[0-9;]*m")


def colours(shown: str) -> set[str]:
    """The sequences that set a colour; not those of bold, dim, or back to plain."""
    parts = (part for found in COLOUR.findall(shown) for part in found[2:-1].split(";"))
    return {part for part in parts if part.isdigit() and (30 <= int(part) < 50 or int(part) > 89)}


def test_a_terminal_that_wants_no_colours_gets_none(workshop: Path) -> None:
    assert colours(on_a_terminal(workshop))
    for environment in ({"NO_COLOR": "1"}, {"TERM": "dumb"}):
        (workshop / "patterns/reeds.toml").write_text(CHART + f"# {environment}\n", "utf-8")
        shown = on_a_terminal(workshop, **environment)
        assert not colours(shown)
        assert "1 pattern: 1 made" in shown


@pytest.mark.parametrize("code_page", CODE_PAGES)
def test_a_terminals_bar_and_table_are_drawn_in_any_code_page(
    workshop: Path, code_page: str
) -> None:
    shown = on_a_terminal(workshop, PYTHONIOENCODING=code_page)
    assert "reeds" in shown and "1 pattern: 1 made" in shown
    assert "Traceback" not in shown
