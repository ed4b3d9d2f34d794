"""Print what the press costs, with nothing before it. Figures, never pass or fail.

python tests/benchmarks/bench_press.py

A book of 14 pages is written by hand: four pages of charts with signs, four of written rows, two
of tables, four of drawn knots. CPU milliseconds, the best of several.
"""

from __future__ import annotations

import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from publisher.drawing.base.signs import SIGNS
from publisher.fonts import font_attributes
from publisher.model.book import Book
from publisher.press import Stamper, impose, mark_pages, print_book
from tests.support.svg_books import BOLD, book

INKS = ("#1f3a5f", "#c9a227", "#f4efe6", "#7a9e7e", "#b5523b", "#2b2b2b")
WORDS = "3 navy, 12 chalk, 4 sage, then carry ochre behind cords 12 to 15 and go on with 6 brick"


def chart(columns: int = 60, rows: int = 45) -> str:
    """A chart as the drawing writes it: a stroke for every run, a text of signs for every row."""
    cells = [
        [(x // 7 + y // 9 + (x * y) % 5 // 4) % 6 for x in range(columns)] for y in range(rows)
    ]
    signs = [sign.character for sign in SIGNS[:6]]
    paths = []
    for colour, ink in enumerate(INKS):
        runs = "".join(
            f"M{x} {y}.5H{x + 1}"
            for y, row in enumerate(cells)
            for x, cell in enumerate(row)
            if cell == colour
        )
        paths.append(f'<path d="{runs}" fill="none" stroke="{ink}"/>')
    texts = [
        f'<text x="0" y="{y}">{"".join(signs[cell] for cell in row)}</text>'
        for y, row in enumerate(cells)
    ]
    labels = "".join(f'<text x="19" y="{42 + 3 * y}">{y + 1} →</text>' for y in range(rows))
    return (
        '<text data-tag="H2" x="18" y="25">Chart</text>'
        '<g data-tag="Figure" data-alt="A chart; the rows say the same in words.">'
        f'<g transform="translate(30 40) scale(2.8 3)">{"".join(paths)}'
        f'<g {font_attributes("signs")} font-size="1" fill="#fff">{"".join(texts)}</g></g>'
        f'<g font-size="2.5">{labels}</g></g>'
    )


def rows(first: int) -> str:
    items = "".join(
        f'<g data-tag="LI"><text data-tag="Lbl" {BOLD} x="18" y="{30 + 5 * n}">Row {first + n}'
        f'</text><text data-tag="LBody" x="38" y="{30 + 5 * n}">{WORDS}</text></g>'
        for n in range(48)
    )
    return f'<text data-tag="H2" x="18" y="22">Rows</text><g data-tag="L">{items}</g>'


def table() -> str:
    lines = "".join(
        '<g data-tag="TR">'
        + "".join(
            f'<text data-tag="TD" x="{18 + 34 * c}" y="{40 + 6 * r}">{r * c} m of ½″</text>'
            for c in range(5)
        )
        + f'</g><path d="M18 {41.5 + 6 * r}H192" stroke="#ccc" stroke-width=".2"/>'
        for r in range(36)
    )
    return f'<text data-tag="H2" x="18" y="22">What to cut</text><g data-tag="Table">{lines}</g>'


def knots() -> str:
    cords = "".join(
        f'<path d="M{20 + 5 * k} 40C{30 + 5 * k} 90 {10 + 5 * k} 140 {24 + 5 * k} 190" '
        f'fill="none" stroke="{ink}" stroke-width="{width}"/>'
        for k in range(30)
        for ink, width in (("#222", 3), (INKS[k % 6], 2.4))
    )
    return f'<g data-tag="Figure" data-alt="A knot, worked in one step.">{cords}</g>'


def bench_book() -> Book:
    head = '<g data-tag="Artifact" font-size="3"><text x="18" y="16">Kingfisher</text></g>'
    bodies = [chart() for _ in range(4)] + [rows(1 + 48 * n) for n in range(4)]
    bodies += [table(), table(), *[knots() for _ in range(4)]]
    return book(*[head + body for body in bodies])


def best_ms(work: Callable[[], object], times: int = 9) -> float:
    found = []
    for _ in range(times):
        started = time.process_time()
        work()
        found.append(time.process_time() - started)
    return min(found) * 1000


def cold_s() -> float:
    script = "import svg_books; from publisher.press import print_book; print_book(svg_books.RICH)"
    folder = str(Path(__file__).parents[2])
    found = []
    for _ in range(5):
        started = time.perf_counter()
        subprocess.run([sys.executable, "-c", script], env={"PYTHONPATH": folder}, check=True)
        found.append(time.perf_counter() - started)
    return min(found)


def main() -> None:
    pages = bench_book()
    pdf = print_book(pages)
    printing = best_ms(lambda: print_book(pages))
    rate = len(pages.pages) / printing * 1000
    print(f"print 14 pages: {printing:.0f} ms, {rate:.0f} pages/s, {len(pdf) / 1000:.0f} kB")
    print(f"cold, a book of two pages: {cold_s():.2f} s")
    for scheme in ("booklet", "two-up"):
        print(f"impose, {scheme}: {best_ms(lambda scheme=scheme: impose(pdf, scheme)):.0f} ms")
    print(f"crop marks: {best_ms(lambda: mark_pages(pdf)):.0f} ms")
    print(f"prepare for stamping: {best_ms(lambda: Stamper(pdf)):.0f} ms")
    stamper = Stamper(pdf)
    started = time.process_time()
    for number in range(5000):
        stamper.copy(f"Maren Weir {number}", f"RB-{number}")
    print(f"stamp: {5000 / (time.process_time() - started):.0f} copies/s")
    letters = "αβγδεζηθικλμνξοπρστυφχψω"
    started = time.process_time()
    for number in range(1000):
        name = "".join(letters[number // step % 24] for step in (1, 2, 3, 5, 7, 11))
        stamper.copy(name.title(), f"RB-{number}")
    print(f"stamp in seldom letters: {1000 / (time.process_time() - started):.0f} copies/s")


if __name__ == "__main__":
    main()
