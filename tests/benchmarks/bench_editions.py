"""Print the size of each edition and how many buyers' copies a second are stamped.

python tests/benchmarks/bench_editions.py
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "support"))

from shop import book, demo, installed, manuscript

from publisher.layout import lay_out_text, lay_out_web
from publisher.manuscript.edition import edition_form
from publisher.press import Stamper, print_book

SLUGS = ("tide-lines", "heron-step")
COPIES = 5000


def sizes() -> None:
    for slug in SLUGS:
        for edition in installed().names("editions"):
            if edition_form(installed(), edition) == "text":
                told = manuscript(demo(slug), edition)
                text, page = lay_out_text(told), lay_out_web(told, installed())
                print(
                    f"{slug} {edition}: {len(text) / 1e3:.0f} kB text, {len(page) / 1e3:.0f} kB web"
                )
                continue
            laid = book(demo(slug), edition)
            size = len(print_book(laid)) / 1e3
            pages = len(laid.pages)
            print(f"{slug} {edition}: {pages} pages, {size:.0f} kB, {size / pages:.1f} kB a page")


def stamping() -> None:
    started = time.process_time()
    stamper = Stamper(print_book(book(demo(SLUGS[0]))))
    prepared = time.process_time()
    for number in range(COPIES):
        stamper.copy(f"Maker {number}", str(number))
    seconds = time.process_time() - prepared
    print(f"stamping: ready in {prepared - started:.2f} s, then {COPIES / seconds:,.0f} copies/s")


if __name__ == "__main__":
    sizes()
    stamping()
