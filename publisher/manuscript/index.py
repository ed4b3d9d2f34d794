"""Write the index of a catalogue: a card a pattern, in the order of their titles."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Mapping, Sequence

from publisher.drawing import draw_hanging, draw_part, place_parts
from publisher.frozen import frozen
from publisher.knots import KnotLibrary
from publisher.manuscript.blocks import Card, Cards, Manuscript, Section
from publisher.manuscript.edition import house_look
from publisher.manuscript.measures import Measures
from publisher.manuscript.sections.cover import short_level
from publisher.manuscript.words import Words, read_words
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import Pattern, UnitOrder
from publisher.model.plan import PiecePlan, Plan
from publisher.model.reach import finished_size
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

CARDS_ACROSS = 3
_PICTURE_MM = 52.0


@frozen
class IndexEntry:
    """The index's entry for one pattern, and its picture, small.

    `width_mm` and `height_mm` are of the finished piece, its fringe included; `columns` and
    `rows` are 0 where it is a part. `colours`: name and colour. `date` is an ISO date, or "".
    """

    slug: str
    title: str
    subtitle: str
    level: str
    version: str
    designer: str
    contact: str
    units: UnitOrder
    date: str
    columns: int
    rows: int
    width_mm: float
    height_mm: float
    colours: tuple[tuple[str, str], ...]
    picture: Figure


def write_entry(
    pattern: Pattern,
    plan: Plan,
    knots: KnotLibrary,
    templates: Templates,
    store: Store = NO_STORE,
) -> IndexEntry:
    """A pattern's entry, as far as it does not depend on the others."""
    chart = plan.charts[0] if plan.charts else None
    width_mm, height_mm = _size(plan)
    return IndexEntry(
        slug=pattern.slug,
        title=pattern.title,
        subtitle=pattern.subtitle,
        level=short_level(pattern.level),
        version=pattern.version,
        designer=pattern.designer,
        contact=pattern.contact,
        units=pattern.units,
        date=pattern.date.isoformat() if pattern.date else "",
        columns=chart.columns if chart else 0,
        rows=chart.rows if chart else 0,
        width_mm=width_mm,
        height_mm=height_mm,
        colours=tuple((colour.name, colour.srgb.hex) for colour in plan.colours),
        picture=_picture(plan, knots, house_look(templates, "a4"), store),
    )


def _size(plan: Plan) -> tuple[float, float]:
    """Width and height of the finished piece: its first chart, or else its first part."""
    pieces: tuple[PiecePlan, ...] = (*plan.charts, *plan.parts)
    return finished_size(plan, pieces[0]) if pieces else (0.0, 0.0)


def _picture(plan: Plan, knots: KnotLibrary, look: Look, store: Store) -> Figure:
    size = (_card_mm(look), _PICTURE_MM)
    find = knots.__getitem__
    if plan.charts:
        chart = plan.charts[0]
        placed = place_parts(plan, chart.id, find)
        return draw_hanging(chart, plan.colours, look, *size, placed, store=store)
    if plan.parts:
        return draw_part(plan.parts[0], plan.colours, find, look, *size, store=store)
    return Figure("", 0.0, 0.0)


def write_index(
    entries: Sequence[IndexEntry],
    books: Mapping[str, Sequence[tuple[str, str]]],
    templates: Templates,
    paper: str,
    date: datetime.datetime,
) -> Manuscript:
    """The index as a book. `books`: by slug, what each file is called and where it lies."""
    words = read_words(templates)
    ordered = sorted(entries, key=lambda entry: (entry.title.casefold(), entry.slug))
    house = _commonest([entry.designer for entry in entries])
    contact = _commonest([entry.contact for entry in entries])
    cards = tuple(_card(entry, words, books.get(entry.slug, ())) for entry in ordered)
    section = Section(
        name="index",
        page="index",
        title=words("index.title"),
        running="",
        body=(Cards(cards, CARDS_ACROSS),),
        note=_note(words, len(entries), house, contact),
        bookmarks=tuple((card.title, card.target) for card in cards),
    )
    return Manuscript(
        title=words("index.book", house=house) if house else words("index.title"),
        author=house,
        subject=words("index.subject"),
        keywords=(),
        language=words.language,
        date=date,
        version="",
        edition=words("index.edition"),
        house=house,
        sections=(section,),
        colours=(),
        look=house_look(templates, paper),
        words=words.under("frame", "index"),
    )


def _note(words: Words, count: int, house: str, contact: str) -> str:
    patterns = words.count("index.count", count)
    if not house:
        return patterns
    key = "index.note_contact" if contact else "index.note"
    return words(key, patterns=patterns, house=house, contact=contact)


def _card(entry: IndexEntry, words: Words, books: Sequence[tuple[str, str]]) -> Card:
    """A pattern in a few lines: the same lines in every card, empty where there is nothing."""
    size = Measures(words, entry.units).size(entry.width_mm, entry.height_mm)
    has_picture = entry.picture.height_mm > 0
    if entry.columns:
        alt = words("cover.alt", title=entry.title, columns=entry.columns, rows=entry.rows)
    else:
        alt = words("cover.alt_part", title=entry.title)
    return Card(
        title=entry.title,
        target=f"pattern-{entry.slug}",
        subtitle=entry.subtitle,
        figure=entry.picture.with_alt(alt) if has_picture else None,
        picture=f"{entry.slug}/picture.png",
        lines=(
            words("units.both", first=size[0], second=size[1]) if has_picture else "",
            entry.level[:1].upper() + entry.level[1:],
            words("index.version", version=entry.version),
        ),
        colours=entry.colours,
        colours_head=words.count("index.colours", len(entry.colours)),
        books=tuple(books),
    )


def _commonest(names: Sequence[str]) -> str:
    """The name that most give, the first of them where as many give another."""
    given = Counter(name for name in names if name)
    return min(given, key=lambda name: (-given[name], name)) if given else ""


def _card_mm(look: Look) -> float:
    gaps = look.frame.column_gap_mm * (CARDS_ACROSS - 1)
    return (look.paper.text_width_mm - gaps) / CARDS_ACROSS
