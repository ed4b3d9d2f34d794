"""Write what parts need besides yarn and how large they come out, and draw their steps."""

from __future__ import annotations

from publisher.drawing import draw_part_steps
from publisher.manuscript.blocks import Text
from publisher.manuscript.context import BookContext
from publisher.model import units
from publisher.model.figure import Figure
from publisher.model.part_plan import StepsPlan
from publisher.plan.parts.lists import glues


def part_tools(context: BookContext) -> list[Text]:
    """Bars to mount on; scissors and needle where no chart has asked for them yet; glue."""
    plan, say = context.plan, context.words.say
    bars: dict[tuple[str, float], int] = {}
    for part in plan.parts:
        if part.piece.bar is not None:
            key = part.piece.bar.name, part.piece.bar.diameter_mm
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


_TALLEST_MM = 80.0
_TALLEST_LARGE_MM = 118.0
_LARGE_PT = 14.0


def part_figures(
    context: BookContext, part: StepsPlan, share: float
) -> tuple[tuple[tuple[int, ...], Figure], ...]:
    """Step numbers and figure, in order; `share`: of the height that figures can have."""
    look = context.edition.look
    wide, gap = look.paper.text_width_mm, look.frame.column_gap_mm
    narrowest = context.edition.option("knot_figure_mm")
    most = max(1, int((wide + gap + 0.1) / (narrowest + gap)))
    lines = [(count, (wide + gap) / count - gap) for count in range(most, 0, -1)]
    large = look.type["figure-words"].size_pt > _LARGE_PT
    tallest = _TALLEST_LARGE_MM if large else _TALLEST_MM
    figures = draw_part_steps(
        part,
        context.plan.colours,
        context.knots.__getitem__,
        look,
        lines,
        tallest * share,
        wide if context.edition.option("one_column") else (wide - gap) / 3,
        context.store,
    )
    return tuple((figure.numbers, figure.figure) for figure in figures)
