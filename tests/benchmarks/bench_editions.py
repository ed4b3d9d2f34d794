"""Print the size of each edition and how many buyers' copies a second are stamped.

python tests/benchmarks/bench_editions.py
"""

from __future__ import annotations

import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

sys.path.insert(0, str(Path(__file__).parents[2]))

from publisher.catalogue.buyers import copies_for
from publisher.layout import lay_out_text, lay_out_web
from publisher.manuscript.edition import edition_form
from publisher.press import Stamper, print_book
from tests.support.shop import book, demo, installed, manuscript

SLUGS = ("tide-lines", "heron-step")
COPIES, ON_DISK = 5000, 2000


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


def put_in_place() -> None:
    """What `publisher stamp --buyers` takes: each copy whole on the disk before it is named."""
    with TemporaryDirectory() as folder:
        file, buyers = Path(folder, "book.pdf"), Path(folder, "buyers.csv")
        file.write_bytes(print_book(book(demo(SLUGS[0]))))
        lines = (f"Maker {number},R-{number}\n" for number in range(ON_DISK))
        buyers.write_text("buyer,order\n" + "".join(lines))
        started = time.perf_counter()
        copies = copies_for(file, buyers=buyers, into=Path(folder, "copies"))
        made = sum(1 for _ in copies.make())
        seconds = time.perf_counter() - started
    print(f"stamping {made} copies on to a disk: {made / seconds:,.0f} copies/s with preparing")


if __name__ == "__main__":
    sizes()
    stamping()
    put_in_place()
