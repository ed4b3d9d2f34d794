"""Make a copy of a finished PDF for each of its buyers, with a line that says whose it is."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.publish_files import clear_traces
from publisher.catalogue.calls import wrong_call
from publisher.catalogue.finished import put_finished, read_finished, told_of
from publisher.catalogue.workshop import read_templates
from publisher.frozen import frozen
from publisher.manuscript.words import read_words

if TYPE_CHECKING:
    from publisher.errors import Problem
    from publisher.press import Buyer, BuyerList, Stamper

_AT_A_TIME = 64
_WRITERS = 8
"""A disk takes a moment to have a file for good, and has many moments at once."""


@frozen
class Copies:
    """Buyers' copies to be made: who gets which file."""

    stamper: Stamper
    buyers: tuple[Buyer, ...]
    paths: tuple[Path, ...]
    notes: tuple[Problem, ...] = ()
    """What in the list of buyers should be looked at."""

    def make(self) -> Iterator[Path]:
        """Put the copies in place, one after the other, each whole. OutputError where one can't
        be written; those before it stay."""
        for folder in {path.parent for path in self.paths}:
            clear_traces(folder)
        pairs = iter(zip(self.buyers, self.paths, strict=True))
        with ThreadPoolExecutor(_WRITERS) as writers:
            while some := list(islice(pairs, _AT_A_TIME)):
                copies = [self.stamper.copy(one.buyer, one.order) for one, _ in some]
                paths = [path for _, path in some]
                for path, _ in zip(paths, writers.map(put_finished, paths, copies), strict=True):
                    yield path


def copies_for(
    file: Path,
    buyer: str | None = None,
    order: str | None = None,
    buyers: Path | None = None,
    into: Path | None = None,
    templates: Path | None = None,
) -> Copies:
    """Return what is to be made of a PDF for one buyer, or for the buyers in a CSV file.

    `into`: a folder; the file's own if it is not given. UsageError where the call is wrong;
    SourceError where the PDF or a line of the list is.
    """
    from publisher.press import Stamper, copy_names

    _check_call(buyer, order, buyers)
    pdf = read_finished(file)
    listed = _everyone(buyer, order, buyers)
    words = read_words(read_templates(templates))
    with told_of(file):
        stamper = Stamper(
            pdf,
            words("stamp.copy", buyer="{buyer}"),
            words("stamp.order", order="{order}"),
        )
    named = partial(Path, into or file.parent)
    paths = map(named, copy_names(file.stem, listed.buyers))
    return Copies(stamper, listed.buyers, tuple(paths), listed.notes)


def _check_call(buyer: str | None, order: str | None, buyers: Path | None) -> None:
    if (buyer is None) == (buyers is None):
        raise wrong_call("stamp", "it is not said for whom", "give either --buyer or --buyers")
    if buyers is not None and order is not None:
        hint = "put it into the list's column “order”"
        raise wrong_call("--order", "an order belongs to one buyer", hint)


def _everyone(buyer: str | None, order: str | None, buyers: Path | None) -> BuyerList:
    from publisher.press import Buyer, BuyerList, read_buyers, what_is_wrong

    if buyers is None:
        one = Buyer((buyer or "").strip(), (order or "").strip())
        for name, message, hint in what_is_wrong(one):
            raise wrong_call(f"--{name}", message, hint)
        return BuyerList((one,))
    if not buyers.exists():
        raise wrong_call(str(buyers), "there is no such file", "give the path of a list as CSV")
    return read_buyers(buyers)
