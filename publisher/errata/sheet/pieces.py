"""Tell what changed in colours, parts, places, knots and the writer's own words."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.errata.compare.changes import (
    ColourChange,
    PartChange,
    PlaceChange,
    StepChange,
    WordChange,
    YarnChange,
)
from publisher.errata.compare.content import ColourTold, YarnTold
from publisher.errata.sheet.context import ErrataSheet
from publisher.errata.sheet.facts import fact_words
from publisher.manuscript.blocks import Block, Heading, Items, Paragraph, Span, Text
from publisher.manuscript.markup import without_pages
from publisher.manuscript.sections.step_words import StepWords
from publisher.model.part_plan import AssemblyPlan

_PARAGRAPHS = ("about", "terms")


def colour_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    items = [text for change in sheet.errata.colours for text in _colour(sheet, change)]
    items += [text for change in sheet.errata.yarns for text in _yarn(sheet, change)]
    if items:
        yield Heading(sheet("colours"))
        yield Items(tuple(items))


def _colour(sheet: ErrataSheet, change: ColourChange) -> Iterator[Text]:
    was, now = change.before, change.after
    if was is None or now is None:
        told = was or now
        assert told is not None
        key = "colour.added" if was is None else "colour.removed"
        yield sheet.say(key, colour=_named(told), yarn=_yarn_name(sheet, told))
        return
    values = {"was": _named(was), "now": _named(now)}
    if was.letter != now.letter:
        yield sheet.say("colour.letter", **values)
    elif was.name != now.name:
        yield sheet.say("colour.name", **values)
    if was.srgb != now.srgb:
        yield sheet.say("colour.srgb", **values)
    if was.yarn != now.yarn:
        yield sheet.say("colour.yarn", **values, yarn=_yarn_name(sheet, now))


def _named(colour: ColourTold) -> str:
    return f"{colour.letter} {colour.name}"


def _yarn_name(sheet: ErrataSheet, colour: ColourTold) -> str:
    names = {one.yarn.key: one.yarn.name for one in sheet.context.plan.colours}
    return names.get(colour.yarn, colour.yarn)


def _yarn(sheet: ErrataSheet, change: YarnChange) -> Iterator[Text]:
    was, now = change.before, change.after
    if was is None or now is None:
        return  # told with the colours that are spun in it
    if "name" in change.changed:
        yield sheet.say("yarn.name", was=was.name, now=now.name)
    if "size" in change.changed:
        yield sheet.say("yarn.size", name=now.name, was=_size(sheet, was), now=_size(sheet, now))
    if "balls" in change.changed:
        yield sheet.say("yarn.balls", name=now.name)


def _size(sheet: ErrataSheet, yarn: YarnTold) -> str:
    thick = sheet.context.measures.thickness(yarn.diameter_mm)
    told = sheet("yarn.told", thick=thick, grams=f"{yarn.grams_per_metre:g}")
    return f"{told}, {yarn.fibre}" if yarn.fibre else told


def piece_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    errata = sheet.errata
    for kind, pieces in (("added", errata.pieces_added), ("removed", errata.pieces_removed)):
        for piece in pieces:
            name = sheet.context.piece_title(piece.id)
            yield Paragraph(sheet.say(f"piece_{kind}", piece=name))
    for part in errata.parts:
        yield from _part(sheet, part)
    if errata.assembly:
        yield Heading(sheet("assembly"))
        yield Items(tuple(_place(sheet, change) for change in errata.assembly))
    if errata.knots:
        yield Heading(sheet("knot_list"))
        yield Items(tuple(_knots(sheet)))


def _part(sheet: ErrataSheet, change: PartChange) -> Iterator[Block]:
    part = next(part for part in sheet.context.plan.parts if part.id == change.piece)
    yield Heading(sheet.context.piece_title(change.piece))
    items = [*fact_words(sheet, change.facts, change.piece)]
    if change.cords:
        items.append(sheet.say("part_cords"))
    told = {step.number: step for step in part.told}
    say = StepWords(sheet.context, part)
    for step in change.steps:
        now = () if step.after is None else without_pages(say.step(told[step.after.number])[2:])
        items.append(_step(sheet, step, now))
    if change.repeats:
        said = [sheet.say("repeats" if part.repeats else "repeats_none")]
        said += (without_pages(say.repeat(repeat)) for repeat in part.repeats)
        items.append(tuple(span for text in said for span in (*text, Span(" "))))
    yield Items(tuple(items))


def _step(sheet: ErrataSheet, change: StepChange, now: Text) -> Text:
    """Return what a step says now, in the booklet's words."""
    if change.after is None:
        assert change.before is not None
        return sheet.say("step.removed", number=change.before.number)
    if change.before is None:
        return sheet.say("step.added", number=change.after.number) + now
    key = "changed" if change.before.number == change.after.number else "changed_moved"
    numbers = {"number": change.before.number, "now": change.after.number}
    return sheet.say(f"step.{key}", **numbers) + now


def _place(sheet: ErrataSheet, change: PlaceChange) -> Text:
    was, now = change.before, change.after
    if now is None:
        assert was is not None
        return sheet.say("place.removed", **_there(sheet, was))
    if was is None:
        return sheet.say("place.added", **_there(sheet, now)) + _note(now)
    moved = was.placement and now.placement and _spot(was) != _spot(now)
    values = {**_there(sheet, now), "title": sheet.context.piece_title(now.piece)}
    if moved:
        told = sheet.say("place.moved", **values, was=_where(sheet, was))
    else:
        told = sheet.say("place.changed", **values)
    lean = [step.placement.turn_degrees if step.placement else 0.0 for step in (was, now)]
    if lean[0] != lean[1]:
        told += sheet.say("place.lean", lean=_lean(sheet, lean[1]))
    if was.count != now.count:
        told += sheet.say("place.count", n=now.count)
    return told + (_note(now) if was.note != now.note else ())


def _spot(step: AssemblyPlan) -> tuple[object, ...]:
    place = step.placement
    return () if place is None else (place.piece, place.row, place.cord)


def _there(sheet: ErrataSheet, step: AssemblyPlan) -> dict[str, str]:
    deed = sheet(f"deed.{step.deed}")
    name = sheet.context.piece_name(step.piece)
    return {"piece": name, "where": _where(sheet, step), "deed": deed}


def _where(sheet: ErrataSheet, step: AssemblyPlan) -> str:
    place = step.placement
    if place is None:
        return sheet("place.nowhere")
    piece = sheet.context.piece_name(place.piece)
    if place.row is None:
        return sheet("place.on", piece=piece)
    return sheet("place.at", row=place.row, cord=place.cord, piece=piece)


def _lean(sheet: ErrataSheet, degrees: float) -> str:
    if not degrees:
        return sheet.words("assembly.upright")
    side = sheet.words("sides.right" if degrees > 0 else "sides.left")
    return sheet.words("assembly.leaning", degrees=f"{abs(degrees):g}", side=side)


def _note(step: AssemblyPlan) -> Text:
    return (Span(f" {step.note}"),) if step.note else ()


def _knots(sheet: ErrataSheet) -> Iterator[Text]:
    for change in sheet.errata.knots:
        knots = sheet.context.knots
        title = change.name if change.removed else knots[change.name].title
        kind = "added" if change.added else "removed" if change.removed else "redrawn"
        yield sheet.say(f"knot.{kind}", knot=title)


def word_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    changes = sheet.errata.words
    short = [change for change in changes if change.name not in _PARAGRAPHS]
    if short:
        yield Heading(sheet("texts"))
        yield Items(tuple(_text(sheet, change) for change in short))
    for change in changes:
        if change.name in _PARAGRAPHS:
            yield Heading(sheet(f"text.{change.name}"), sheet("text_lead"))
            fresh = [text for text in change.after if text not in change.before]
            said = [Paragraph((Span(text),)) for text in fresh]
            yield from said or [Paragraph(sheet.say("text_shorter"))]


def _text(sheet: ErrataSheet, change: WordChange) -> Text:
    now = " ".join(change.after)
    if not now:
        return sheet.say("text_gone", what=sheet(f"text.{change.name}"))
    return sheet.say("text_now", what=sheet(f"text.{change.name}"), now=now)
