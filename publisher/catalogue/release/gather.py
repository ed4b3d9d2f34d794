"""Gather what goes into a release: editions that are built, and what is made for it alone."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.build import cores
from publisher.catalogue.build.digests import digest_of, digest_of_file
from publisher.catalogue.build.job import Planned, lay_out
from publisher.catalogue.build.reading import date_of
from publisher.catalogue.build.records import BuildRecord as BuildRecord
from publisher.catalogue.build.records import record_path
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import COMPANIONS, CUTTING_LISTS
from publisher.catalogue.release.draft import Draft
from publisher.catalogue.release.pictures import listing_pictures, read_listing
from publisher.catalogue.release.record import ReleasedEdition, ReleaseRecord
from publisher.catalogue.release.rules import layouts, raise_problems
from publisher.errata.compare.changes import Errata
from publisher.errors import OutputError, Place, Problem
from publisher.frozen import frozen

if TYPE_CHECKING:
    from publisher.manuscript.blocks import Manuscript

LISTING = "listing"


@frozen
class Built:
    """The editions' files by name, and what they were made from."""

    files: Mapping[str, bytes]
    editions: tuple[ReleasedEdition, ...]
    made_from: Mapping[str, str]


def build_editions(run: BuildRun, draft: Draft) -> Built:
    """Build what is out of date, and take it as it was made. ReleaseError with every problem."""
    path, out = Path(draft.pattern.path), run.workshop.out
    for outcome in run.outcomes(run.tasks([path]), cores()):
        raise_problems(outcome.problems, outcome.trace)
    for name, digest in draft.sources.items():
        source = path.parent / name.removeprefix("source/")
        if digest_of_file(source) != digest:
            raise _meddled(source)
    files: dict[str, bytes] = {}
    layout = layouts(run, draft, run.targets if draft.pattern.prices_as_of else (COMPANIONS,))
    editions: list[ReleasedEdition] = []
    made_from: dict[str, str] = {}
    for target in run.targets:
        record = BuildRecord.read(record_path(out, draft.pattern.slug, target))
        if record is None:
            raise _meddled(out / draft.pattern.slug)
        editions.append(
            ReleasedEdition(target.edition, target.paper, layout.get(target, record.layout))
        )
        made_from |= record.inputs
        for name, digest in record.files.items():
            if target != COMPANIONS or name in cutting_lists(run, draft):
                files[name] = _as_made(out / draft.pattern.slug / name, digest)
    return Built(files, tuple(editions), made_from)


def cutting_lists(run: BuildRun, draft: Draft) -> tuple[str, ...]:
    """Return the names of the cutting lists that go with the editions of a release."""
    editions = [target.edition for target in run.targets if target != COMPANIONS]
    hands = (run.toolkit.pipeline.edition_hand(draft.templates, name) for name in editions)
    return tuple(CUTTING_LISTS[hand] for hand in dict.fromkeys(hands))


def _as_made(path: Path, digest: str) -> bytes:
    try:
        content = path.read_bytes()
    except OSError:
        raise _meddled(path) from None
    if digest_of(content) != digest:
        raise _meddled(path)
    return content


def _meddled(path: Path) -> OutputError:
    message = "this was changed while it was being released, and nothing was released"
    return OutputError(Problem(Place(str(path)), message, "release again"))


def terms_text(run: BuildRun, draft: Draft) -> bytes:
    """The terms of use, as a text to lie beside the editions."""
    from publisher.manuscript import write_licence

    manuscript = write_licence(draft.pattern, draft.templates, date_of(draft.pattern.date))
    return run.toolkit.pipeline.lay_out_text(manuscript).encode()


def listing_files(run: BuildRun, draft: Draft, built: Built) -> Iterator[tuple[str, bytes]]:
    """The pictures for a shop: of the piece, and of the first edition with pages."""
    pipeline, toolkit, pattern = run.toolkit.pipeline, run.toolkit, draft.pattern
    listing = read_listing(draft.templates)
    for target in run.targets:
        pdf = built.files.get(f"{pattern.slug}-{pattern.version}-{target.name}.pdf")
        if pdf is not None:
            break
    else:
        return
    hand = pipeline.edition_hand(draft.templates, target.edition)
    handed, right = draft.hands[hand], draft.hands["right"]
    planned, date = Planned(handed.pattern, handed.plan), date_of(pattern.date)
    book = lay_out(toolkit, planned, target, draft.templates, date)
    piece = pipeline.print_book(
        pipeline.lay_out_picture(right.plan, toolkit.knots(draft.templates), draft.templates)
    )
    for name, picture in listing_pictures(listing, book, pdf, piece):
        yield f"{LISTING}/{name}.png", picture


@frozen
class Correcting:
    """The errata of a release, by hand, against its last release. `day`: what they are dated;
    `older`: there are releases before the last one."""

    last: ReleaseRecord
    errata: Mapping[str, Errata]
    day: datetime.date
    older: bool


def errata_files(run: BuildRun, draft: Draft, correcting: Correcting) -> dict[str, bytes]:
    """A sheet for earlier buyers of each hand, on each paper and as text."""
    pipeline = run.toolkit.pipeline
    papers = dict.fromkeys(target.paper for target in run.targets if target != COMPANIONS)
    files: dict[str, bytes] = {}
    for hand in correcting.errata:
        name = errata_name(draft, hand)
        files[f"{name}.txt"] = errata_text(run, draft, correcting, hand).encode()
        for paper in papers:
            book = pipeline.lay_out(_errata(run, draft, correcting, hand, paper), draft.templates)
            files[f"{name}-{paper}.pdf"] = pipeline.print_book(book)
    return files


def errata_name(draft: Draft, hand: str) -> str:
    """`SLUG-VERSION-errata`, or `…-errata-left-handed`."""
    name = f"{draft.pattern.slug}-{draft.pattern.version}-errata"
    return name if hand == "right" else f"{name}-{hand}-handed"


def errata_text(run: BuildRun, draft: Draft, correcting: Correcting, hand: str = "right") -> str:
    """The errata for a hand, as they are read without pages."""
    return run.toolkit.pipeline.lay_out_text(_errata(run, draft, correcting, hand, ""))


def _errata(
    run: BuildRun, draft: Draft, correcting: Correcting, hand: str, paper: str
) -> Manuscript:
    from publisher.errata.sheet import write_errata
    from publisher.errata.sheet.context import EarlierRelease

    last, day = correcting.last, correcting.day
    both = len(last.contents.keys() & draft.hands.keys()) > 1
    return write_errata(
        draft.hands[hand].pattern,
        draft.hands[hand].plan,
        run.toolkit.knots(draft.templates),
        draft.templates,
        paper or "a4",
        correcting.errata[hand],
        EarlierRelease(last.version, last.day, correcting.older),
        date=datetime.datetime(day.year, day.month, day.day, tzinfo=datetime.UTC),
        form="pages" if paper else "text",
        hand="left" if hand == "left" else "right",
        both_hands=both,
    )
