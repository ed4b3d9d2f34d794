"""Write what the parts of a pattern need besides yarn, and how large they come out."""

from __future__ import annotations

from publisher.manuscript.blocks import Text
from publisher.manuscript.context import BookContext
from publisher.model import units
from publisher.plan.parts.lists import glues


def part_tools(context: BookContext) -> list[Text]:
    """Bars to mount on; scissors and needle where no chart has asked for them yet; glue."""
    plan, say = context.plan, context.words.say
    bars: dict[tuple[str, float], int] = {}
    for part in plan.parts:
        if part.bar is not None:
            key = part.bar.name, part.bar.diameter_mm
            bars[key] = bars.get(key, 0) + part.make
    found = [
        say(
            "materials.bar",
            bar=name[0].upper() + name[1:],
            thick=context.measures.thickness(thick),
            n=units.whole(count),
        )
        for (name, thick), count in bars.items()
    ]
    if plan.parts and not context.charts:
        found.append(say("materials.scissors_parts"))
        if any(step.deed == "sew" for step in plan.assembly):
            found.append(say("materials.needle"))
        found.append(say("materials.board"))
    if glues(plan.parts, plan.assembly):
        found.append(say("materials.glue_gun"))
    return found


def part_sizes(context: BookContext) -> list[tuple[str, tuple[str, ...]]]:
    """Name, size and number of every part, as facts."""
    words = context.words
    facts: list[tuple[str, tuple[str, ...]]] = []
    for part in context.plan.parts:
        size = context.measures.size(part.width_mm, part.height_mm)
        made = words.count("parts.make", part.make)
        facts.append((context.piece_title(part.id), (*size, made)))
    return facts
