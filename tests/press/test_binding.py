"""cairo's binding comes in quickly, and comes in all the same where nothing was read ahead."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from publisher.press import binding, cairo_tables

PRINT = """
import sys
asked = set()
sys.addaudithook(lambda event, _: asked.add(event) if "Popen" in event else None)
from svg_books import book
from publisher.press import print_book
print(len(print_book(book('<text data-tag="P" x="9" y="9">Reeds</text>'))))
print(*sorted({"cffi", "pycparser"} & set(sys.modules) | asked))
"""
NOTHING_READ_AHEAD = "import sys; sys.modules['publisher.press.cairo_tables'] = None"


def run(script: str) -> list[str]:
    support = str(Path(__file__).parents[1] / "support")
    start = f"import sys; sys.path.insert(0, {support!r})"
    made = subprocess.run(
        [sys.executable, "-c", f"{start}\n{script}"], capture_output=True, text=True
    )
    assert made.returncode == 0, made.stderr
    return made.stdout.splitlines()


def test_printing_reads_no_c_and_asks_no_other_program() -> None:
    size, slow = run(PRINT)
    assert int(size) > 1000 and slow == ""


def test_without_what_was_read_ahead_the_same_is_printed() -> None:
    size, slow = run(NOTHING_READ_AHEAD + PRINT)
    assert [size] == run(PRINT)[:1]
    assert "pycparser" in slow


def test_what_was_read_ahead_is_what_the_binding_declares() -> None:
    from cairocffi.constants import _CAIRO_HEADERS

    if binding.checksum(_CAIRO_HEADERS) == cairo_tables.HEADERS:  # else it is read at each start
        written = Path(cairo_tables.__file__).read_text(encoding="utf-8")
        assert binding.tables() == written
