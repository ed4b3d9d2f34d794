"""Where the cairo library is not installed, all but gradients is printed as ever."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.support import svg_books

NO_CAIRO = """
import builtins, sys
real = builtins.__import__
def without(name, *rest, **named):
    if name.partition(".")[0] in ("cairocffi", "cairosvg"):
        raise OSError("no library called cairo-2 was found")
    return real(name, *rest, **named)
builtins.__import__ = without
from tests.support import svg_books
from publisher.errors import TemplateError
from publisher.press import print_book
"""
GRADIENT = (
    '<defs><linearGradient id="a"><stop offset="0" stop-color="#f00"/></linearGradient></defs>'
    '<rect width="9" height="9" fill="url(#a)"/>'
)


def run(script: str) -> str:
    folder = str(Path(svg_books.__file__).parent)
    environment = {**os.environ, "PYTHONPATH": folder}
    done = subprocess.run(
        [sys.executable, "-c", NO_CAIRO + script], env=environment, capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def test_a_book_is_printed() -> None:
    assert run("print(print_book(svg_books.RICH)[:5].decode())") == "%PDF-\n"


def test_what_needs_it_is_told() -> None:
    wrong = f"print_book(svg_books.book('''{GRADIENT}'''))"
    told = run(f"try: {wrong}\nexcept TemplateError as error: print(error)")
    assert "the cairo library is not installed" in told


@pytest.mark.parametrize(
    "colour", ["navy", "LightSeaGreen", "rgb(0%, 100%, 0%)", "hsl(200,50%,50%)"]
)
def test_colours_have_their_names(colour: str) -> None:
    body = f'<rect width="9" height="9" fill="{colour}"/>'
    assert run(f"print(print_book(svg_books.book('{body}'))[:5].decode())") == "%PDF-\n"
