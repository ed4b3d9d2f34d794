"""Write what a maker needs: tools, sizes, the cutting list and the shopping list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.manuscript.blocks import (
    Block,
    Facts,
    Heading,
    Items,
    Paragraph,
    Section,
    Text,
)
from publisher.manuscript.context import BookContext
from publisher.manuscript.lists import as_lists
from publisher.manuscript.sections.cutting import cord_tables, cords_target, cutting_table
from publisher.manuscript.sections.part_needs import part_sizes, part_tools
from publisher.manuscript.sections.shopping import price_table, shopping_table
from publisher.manuscript.sections.weights import makes_several, weight_lines
from publisher.model import units
from publisher.model.plan import BuyLine, ChartPlan

_GAUGE = 20  # knots across a swatch
_TRIAL_ROWS = 10  # in the words: ten rows
_TRIAL_KNOTS = 20  # in the words: twenty


def write_materials(context: BookContext) -> Section:
    words = context.words
    body: list[Block] = []
    for chart in context.charts:
        fittings: tuple[Block, ...] = (
            Heading(_of_piece(context, chart, words("materials.tools"))),
            Items(
                (
                    *tools(context, chart),
                    *(part_tools(context) if chart is context.charts[0] else []),
                )
            ),
        )
        piece: tuple[Block, ...] = (
            Heading(_of_piece(context, chart, words("materials.piece"))),
            Facts(tuple(_piece(context, chart))),
        )
        body += context.beside((fittings, piece), (1.15, 1.0))
    if context.plan.parts and not context.charts:
        body += context.beside(_for_parts(context), (1.15, 1.0))
    lead = words("materials.shopping_lead", yarns=yarns_to_buy(context))
    body += cutting_blocks(context)
    body.append(Heading(words("materials.shopping"), lead, target="shopping-list"))
    body += shopping_blocks(context, context.plan.shopping)
    return Section(
        "materials",
        "text",
        words("materials.title"),
        words("materials.running"),
        tuple(body),
        bookmarks=(
            (words("materials.cutting"), "cutting-list"),
            (words("materials.shopping"), "shopping-list"),
        ),
    )


def _of_piece(context: BookContext, chart: ChartPlan, heading: str) -> str:
    """A heading, with the piece that it is of where there are several."""
    if len(context.charts) == 1:
        return heading
    name = context.piece_name(chart.id)
    return context.words("materials.piece_of", purpose=heading, piece=name)


def _for_parts(context: BookContext) -> tuple[tuple[Block, ...], ...]:
    """Fittings and sizes where there is no chart."""
    words = context.words
    key = "materials.weight_all" if makes_several(context) else "materials.weight_about"
    weight = words(key, mass=context.measures.mass(context.plan.finished_mass_g))
    facts = (*part_sizes(context), (words("materials.weight"), (weight,)))
    return (
        (Heading(words("materials.tools")), Items(tuple(part_tools(context)))),
        (Heading(words("materials.part_size")), Facts(facts)),
    )


def cutting_blocks(context: BookContext) -> list[Block]:
    """The cutting list under its heading."""
    percents = {f"{plan.piece.allowance_percent:g}" for plan in context.plan.pieces}
    key = "materials.cutting_lead" if context.charts else "materials.cutting_lead_parts"
    lead = context.words(key, percent=" / ".join(sorted(percents)))
    heading = Heading(context.words("materials.cutting"), lead, target="cutting-list")
    blocks: list[Block] = [heading, *as_lists(context, cutting_table(context))]
    sure = [Paragraph(text) for text in _how_sure(context)]
    sure += [Paragraph(text) for chart in context.charts for text in _row_heights(context, chart)]
    if len(sure) == 2:
        blocks += context.beside(((sure[0],), (sure[1],)), (1.0, 1.0))
    else:
        blocks += sure
    for chart in context.charts:
        for index, tables in enumerate(cord_tables(context, chart)):
            if not index:
                key = "by_number_lead" if chart.piece.cords.strands > 1 else "by_number_lead_ends"
                lead = context.words(f"materials.{key}")
                head = _of_piece(context, chart, context.words("materials.by_number_head"))
                blocks.append(Heading(head, lead, target=cords_target(chart.id)))
            parts = tuple(tuple(as_lists(context, table)) for table in tables)
            blocks += context.beside(parts, (1.0,) * len(parts))
    return blocks


def _how_sure(context: BookContext) -> Iterator[Text]:
    """Yield how far off lengths may be that no swatch gives, and what a maker can do about it."""
    say, parts = context.words.say, context.plan.parts
    computed = [chart for chart in context.charts if not chart.piece.gauge.tells_yarn]
    if not computed and not parts:
        return
    said = say(
        "materials.computed" if computed or not context.charts else "materials.computed_parts"
    )
    for chart in computed[:1]:
        most = max(chart.knots, key=lambda letter: chart.knots[letter])
        length_mm = _TRIAL_KNOTS * chart.yarn_mm_per_knot[most]
        length = context.measures.length(length_mm, "up")
        said += say("materials.computed_try", colour=context.plan.colour(most).name, length=length)
    yield said + (say("materials.computed_try_part") if parts else ())


def _row_heights(context: BookContext, chart: ChartPlan) -> Iterator[Text]:
    """Yield what hanging cords are cut for, where no swatch tells how high a row comes out."""
    heights, measures = chart.row_heights, context.measures
    if heights is None:
        return
    key = "materials.cords_planned" if len(context.charts) == 1 else "materials.cords_planned_of"
    yield context.words.say(
        key,
        piece=context.piece_name(chart.id),
        planned=measures.length(_TRIAL_ROWS * heights.planned_mm),
        least=measures.length(_TRIAL_ROWS * heights.least_mm),
        most=measures.length(_TRIAL_ROWS * heights.most_mm),
    )


def shopping_blocks(
    context: BookContext, shopping: Sequence[BuyLine], *, with_knots: bool = True
) -> list[Block]:
    """A shopping list, with or without the knots made of it, and its prices."""
    table = shopping_table(context, shopping, with_knots=with_knots and bool(context.charts))
    return [*as_lists(context, table), *_price_blocks(context, shopping)]


def _price_blocks(context: BookContext, shopping: Sequence[BuyLine]) -> list[Block]:
    """Return what a shopping list costs, of which month; nothing where that is not to be
    printed."""
    table, day = price_table(context, shopping), context.pattern.prices_as_of
    if table is None or day is None:
        return []
    month = f"{context.words(f'months.{day.month}')} {day.year}"
    lead = context.words("materials.prices_lead", month=month)
    return [Heading(context.words("materials.prices"), lead), *as_lists(context, table)]


def yarns_to_buy(context: BookContext) -> str:
    """The yarns as they are told above a shopping list."""
    return "; ".join(_yarns(context))


def _yarns(context: BookContext) -> list[str]:
    words = context.words
    lines = []
    for yarn in dict.fromkeys(colour.yarn for colour in context.plan.colours):
        values = {"name": yarn.name, "grams": f"{yarn.grams_per_metre:g}"}
        if yarn.ball_metres:
            ball = words("materials.ball_metres", n=f"{yarn.ball_metres:g}")
        elif yarn.ball_grams:
            ball = words("materials.ball_grams", n=f"{yarn.ball_grams:g}")
        else:
            lines.append(words("materials.shopping_yarn", **values))
            continue
        lines.append(words("materials.shopping_yarn_ball", ball=ball, **values))
    return lines


def tools(context: BookContext, chart: ChartPlan) -> list[Text]:
    """Return what else than yarn lies on the table."""
    say, measures = context.words.say, context.measures
    return [
        say(
            "materials.dowel",
            thick=measures.thickness(chart.piece.mount.diameter_mm),
            length=measures.length(chart.dowel_length_mm, "up"),
        ),
        say(
            "materials.loop",
            length=measures.length(chart.hanging_loop_mm, "up"),
            colour=context.plan.colour(chart.piece.cords.colour).name,
        ),
        say("materials.hooks"),
        say("materials.scissors"),
        say("materials.needle"),
        say("materials.tags"),
    ]


def _piece(context: BookContext, chart: ChartPlan) -> list[tuple[str, tuple[str, ...]]]:
    words, measures = context.words, context.measures
    about = () if chart.cell.measured else (words("materials.gauge_about"),)
    swatch = "gauge_swatch" if chart.cell.measured else "gauge_computed"
    facts = [
        (words("materials.picture"), measures.size(chart.width_mm, chart.height_mm)),
        (words("materials.fringe"), (fringe_words(context, chart),)),
        (
            words(f"materials.{swatch}"),
            (
                words(
                    "materials.gauge_columns", width=measures.length(chart.cell.width_mm * _GAUGE)
                ),
                words(
                    "materials.gauge_rows", height=measures.length(chart.cell.height_mm * _GAUGE)
                ),
                *about,
            ),
        ),
        (words("materials.yarn_knot"), yarn_a_knot(context, chart)),
        (
            words("materials.weight"),
            weight_lines(context, chart),
        ),
    ]
    if chart.make > 1:
        facts.append((words("materials.make"), (words.count("materials.make_pieces", chart.make),)))
    return facts


def fringe_words(context: BookContext, chart: ChartPlan) -> str:
    """The fringe's lengths, as its shape needs them said."""
    measures = context.measures
    return context.words(
        f"materials.fringe_{chart.piece.fringe.shape}",
        longest=measures.length(max(chart.fringe_mm)),
        shortest=measures.length(min(chart.fringe_mm)),
    )


def yarn_a_knot(context: BookContext, chart: ChartPlan) -> tuple[str, ...]:
    """Yarn a knot: once if all colours take the same, else a line for each length."""
    lengths: dict[str, list[str]] = {}
    for letter, length_mm in chart.yarn_mm_per_knot.items():
        text = context.words("units.both", **_knot_lengths(context, length_mm))
        lengths.setdefault(text, []).append(letter)
    if len(lengths) == 1:
        return tuple(lengths)
    return tuple(
        context.words("materials.yarn_knots", letter=" ".join(letters), length=text)
        for text, letters in lengths.items()
    )


def _knot_lengths(context: BookContext, length_mm: float) -> dict[str, str]:
    metric = context.words("units.mm", n=units.millimetres(round(length_mm)))
    inch = context.words("units.inch", n=units.inches(length_mm))
    first, second = (metric, inch) if context.measures.metric_first else (inch, metric)
    return {"first": first, "second": second}
