"""Write the small knotted parts: a page each, with the cords to cut and every step drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from publisher.drawing import draw_part
from publisher.manuscript.blocks import (
    Block,
    Caution,
    Facts,
    Heading,
    Items,
    Picture,
    Section,
    Strip,
    Text,
)
from publisher.manuscript.context import BookContext, knot_target
from publisher.manuscript.markup import page_of, plain
from publisher.manuscript.phrases import ranges
from publisher.manuscript.sections.cautions import caution_words
from publisher.model import units
from publisher.model.part_plan import PartCordPlan, StepsPlan

_LONG = 2.5
"""A part longer than this, for its width, is shown lying down."""
_LYING_MM = 16.0


def write_parts(context: BookContext) -> list[Section]:
    return [_section(context, part) for part in context.plan.parts]


def _section(context: BookContext, part: StepsPlan) -> Section:
    words = context.words
    name = context.piece_title(part.id)
    first = part is context.plan.parts[0]
    return Section(
        "parts" if first else f"parts-{part.id}",
        "text",
        name,
        words("parts.running"),
        _body(context, part),
        note=words.count("parts.make", part.make) if part.make > 1 else "",
        bookmark=words("contents.parts") if first else name,
        smaller=partial(_body, context, part),
    )


def _body(context: BookContext, part: StepsPlan, share: float = 1.0) -> tuple[Block, ...]:
    """Write all about a part; with less than the whole share, the figures of its steps are
    lower."""
    words = context.words
    mounted, *steps = _pictures(context, part, share)
    cords = (
        Heading(words("parts.cords_head"), words("parts.cords_lead")),
        Items(tuple(_cord_words(context, part))),
    )
    body = _head(context, part)
    body += context.beside((cords, (mounted,)), (2.0, 1.0))
    caution = caution_words(context, _cautions(part))
    if caution:
        body.append(Caution(words("parts.caution"), caution))
    lead = words("parts.steps_lead" if context.on_paper else "parts.steps_lead_text")
    body.append(Heading(words("parts.steps_head"), lead))
    body.append(Strip(tuple(steps), numbered=False))
    return tuple(body)


def _cautions(part: StepsPlan) -> Iterator[str]:
    """Yield what the steps themselves can do."""
    if any(step.kind == "glue" for step in part.steps):
        yield "hot-glue"


def _head(context: BookContext, part: StepsPlan) -> list[Block]:
    """Return what it is, and how it looks when it is done: beside that, or below it if it is
    long."""
    facts: tuple[Block, ...] = (Facts(tuple(_facts(context, part)), term_mm=24.0),)
    alt = context.words("parts.alt_whole", name=context.piece_title(part.id))
    look, wide = context.edition.look, context.edition.look.paper.text_width_mm
    colours, find, store = context.plan.colours, context.knots.__getitem__, context.store
    if part.height_mm > _LONG * part.width_mm:
        size = wide, _LYING_MM
        lying = draw_part(part, colours, find, look, *size, lying=True, store=store)
        return [*facts, Picture(lying.with_alt(alt))]
    figure = draw_part(part, colours, find, look, 54.0, 36.0, store=store)
    return context.beside((facts, (Picture(figure.with_alt(alt)),)), (1.9, 1.0))


def _facts(context: BookContext, part: StepsPlan) -> Iterator[tuple[str, tuple[str, ...]]]:
    words, measures = context.words, context.measures
    size = measures.size(part.width_mm, part.height_mm)
    yield words("parts.size"), (words("parts.size_about", size=size[0], second=size[1]),)
    if part.ends_mm:
        yield words("parts.ends"), (measures.length(part.ends_mm),)
    knots = [
        words("parts.knot_count", n=count, knot=context.knots[name].title)
        for name, count in part.knots.items()
    ]
    yield words("parts.knots"), (words("parts.comma").join(knots),)
    if part.seconds is not None:
        minutes = units.whole(units.round_to(part.seconds / 60, 5, "up"))
        yield words("parts.time"), (words.count("parts.minutes", part.make, minutes=minutes),)


def _cord_words(context: BookContext, part: StepsPlan) -> Iterator[Text]:
    """Yield what to cut for one part, cords that are alike together."""
    groups: dict[tuple[object, ...], list[PartCordPlan]] = {}
    for cord in part.cords:
        legs = tuple(round(leg.cut_mm) for leg in cord.legs) if not cord.even else ()
        key = cord.colour, cord.lay, cord.on, cord.knot, cord.step, cord.wraps, cord.cut_mm, legs
        groups.setdefault(key, []).append(cord)
    for cords in groups.values():
        yield _alike(context, part, cords)


def _alike(context: BookContext, part: StepsPlan, cords: Sequence[PartCordPlan]) -> Text:
    words, measures = context.words, context.measures
    cord = cords[0]
    colour = context.plan.colour(cord.colour)
    ends = _ends(context, part, cords)
    head = words.say(
        "parts.cut_ends" if ends else "parts.cut",
        ends=ends,
        count=len(cords),
        length=measures.length(cord.cut_mm, "up"),
        letter=cord.colour,
        colour=colour.name,
    )
    if cord.step:
        kind = "wraps" if cord.wraps else f"added_{cord.lay}"
        return head + words.say(f"parts.{kind}", step=cord.step)
    if cord.lay == "single":
        return head + words.say("parts.single", tail=measures.length(part.piece.tail_mm))
    fold = _fold(context, cord)
    if cord.lay == "across":
        return head + words.say("parts.across") + fold
    knot = context.knots[cord.knot]
    values = {"knot": knot.title, "name": knot.name, "page": page_of(knot_target(knot.name))}
    if cord.on is None and part.piece.bar is not None:
        return head + words.say("parts.on_bar", bar=part.piece.bar.name, **values) + fold
    return head + words.say("parts.on_cord", **values) + fold


def _ends(context: BookContext, part: StepsPlan, cords: Sequence[PartCordPlan]) -> str:
    """Return where cords hang when a part is begun: `ends 1 and 4`. Nothing of those that come
    later."""
    numbers = {cord.number for cord in cords}
    places = [place for place, leg in enumerate(part.order, 1) if leg.cord in numbers]
    if not places:
        return ""
    return context.words.count("parts.hang", len(places), list=ranges(context.words, places))


def _fold(context: BookContext, cord: PartCordPlan) -> Text:
    """Return where to fold a cord, or to hold it, whose halves are not alike."""
    if cord.even:
        return ()
    left, right = (context.measures.length(leg.cut_mm) for leg in cord.legs)
    return context.words.say("parts.uneven", left=left, right=right)


def _pictures(context: BookContext, part: StepsPlan, share: float) -> list[Picture]:
    """Every figure with the words of the steps that it shows, mounting first."""
    from publisher.manuscript.sections.part_needs import part_figures
    from publisher.manuscript.sections.step_words import StepWords

    say, words = StepWords(context, part), context.words
    told = {step.number: step for step in part.told}
    repeats = {repeat.last: repeat for repeat in part.repeats}
    pictures = []
    for numbers, figure in part_figures(context, part, share):
        lines: list[Text] = []
        if numbers == (0,):
            lines.append(words.say("parts.begin", count=len(part.order)))
        for number in numbers:
            if number:
                lines.append(say.step(told[number]))
            if number in repeats:
                lines.append(say.repeat(repeats[number]))
        spoken = " ".join(plain(line) for line in lines)
        alt = words("parts.alt", name=context.piece_title(part.id), words=spoken)
        pictures.append(Picture(figure.with_alt(alt), lines[0], tuple(lines[1:])))
    return pictures
