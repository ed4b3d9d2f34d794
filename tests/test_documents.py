"""What the project's texts name is in the project."""

from __future__ import annotations

import re
from pathlib import Path

ROOT = Path(__file__).parents[1]
FOLDERS = ("publisher", "templates", "patterns", "tests", ".ci")
TEXTS = {".py", ".toml", ".md", ".txt", ".svg", ".html", ".js", ".css", ""}


def texts() -> list[Path]:
    inside = (path for folder in FOLDERS for path in (ROOT / folder).rglob("*"))
    found = [path for path in (*ROOT.glob("*.*"), *inside) if path.suffix in TEXTS]
    return [path for path in found if path.is_file() and "__pycache__" not in path.parts]


def test_every_document_that_is_named_is_there() -> None:
    there = {path.name for path in texts()}
    assert {"README.md", "DEVELOPERS.md"} <= there and len(there) > 500
    for path in texts():
        for name in re.findall(r"[\w-]+\.md\b", path.read_text("utf-8", "ignore")):
            assert name in there, f"{path.relative_to(ROOT)} names {name}"
