"""Write what a maker needs: tools, sizes, the cutting list and the shopping list."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher import units
from publisher.manuscript.blocks import (
    Block,
    Facts,
    Heading,
    Items,
    Paragraph,
    Section,
    Text,
)
from publisher.manuscript.brief import Brief
from publisher.manuscript.cutting import cord_tables, cords_target, cutting_table
from publisher.manuscript.lists import as_lists
from publisher.manuscript.part_needs import part_sizes, part_tools
from publisher.manuscript.shopping import price_table, shopping_table
from publisher.manuscript.weights import makes_several, weight_lines
from publisher.plan.values import BuyLine, ChartPlan

_GAUGE = 20  # knots across a swatch
_TRIAL_ROWS = 10  # in the words: ten rows
_TRIAL_KNOTS = 20  # in the words: twenty


def write_materials(brief: Brief) -> Section:
    words = brief.words
    body: list[Block] = []
    for chart in brief.charts:
        fittings: tuple[Block, ...] = (
            Heading(_of_piece(brief, chart, words("materials.tools"))),
            Items((*tools(brief, chart), *(part_tools(brief) if chart is brief.charts[0] else []))),
        )
        piece: tuple[Block, ...] = (
            Heading(_of_piece(brief, chart, words("materials.piece"))),
            Facts(tuple(_piece(brief, chart))),
        )
        body += brief.beside((fittings, piece), (1.15, 1.0))
    if brief.plan.parts and not brief.charts:
        body += brief.beside(_for_parts(brief), (1.15, 1.0))
    lead = words("materials.shopping_lead", yarns=yarns_to_buy(brief))
    body += cutting_blocks(brief)
    body.append(Heading(words("materials.shopping"), lead, target="shopping-list"))
    body += shopping_blocks(brief, brief.plan.shopping)
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


def _of_piece(brief: Brief, chart: ChartPlan, heading: str) -> str:
    """A heading, with the piece that it is of where there are several."""
    if len(brief.charts) == 1:
        return heading
    name = brief.piece_name(chart.id)
    return brief.words("materials.piece_of", purpose=heading, piece=name)


def _for_parts(brief: Brief) -> tuple[tuple[Block, ...], ...]:
    """Fittings and sizes where there is no chart."""
    words = brief.words
    key = "materials.weight_all" if makes_several(brief) else "materials.weight_about"
    weight = words(key, mass=brief.measures.mass(brief.plan.finished_mass_g))
    facts = (*part_sizes(brief), (words("materials.weight"), (weight,)))
    return (
        (Heading(words("materials.tools")), Items(tuple(part_tools(brief)))),
        (Heading(words("materials.part_size")), Facts(facts)),
    )


def cutting_blocks(brief: Brief) -> list[Block]:
    """The cutting list under its heading."""
    percents = {f"{piece.allowance_percent:g}" for piece in brief.plan.pieces}
    key = "materials.cutting_lead" if brief.charts else "materials.cutting_lead_parts"
    lead = brief.words(key, percent=" / ".join(sorted(percents)))
    heading = Heading(brief.words("materials.cutting"), lead, target="cutting-list")
    blocks: list[Block] = [heading, *as_lists(brief, cutting_table(brief))]
    sure = [Paragraph(text) for text in _how_sure(brief)]
    sure += [Paragraph(text) for chart in brief.charts for text in _row_heights(brief, chart)]
    if len(sure) == 2:
        blocks += brief.beside(((sure[0],), (sure[1],)), (1.0, 1.0))
    else:
        blocks += sure
    for chart in brief.charts:
        for index, tables in enumerate(cord_tables(brief, chart)):
            if not index:
                key = "by_number_lead" if chart.cord_strands > 1 else "by_number_lead_ends"
                lead = brief.words(f"materials.{key}")
                head = _of_piece(brief, chart, brief.words("materials.by_number_head"))
                blocks.append(Heading(head, lead, target=cords_target(chart.id)))
            parts = tuple(tuple(as_lists(brief, table)) for table in tables)
            blocks += brief.beside(parts, (1.0,) * len(parts))
    return blocks


def _how_sure(brief: Brief) -> Iterator[Text]:
    """How far off lengths may be that no swatch gives, and what a maker can do about it."""
    say, parts = brief.words.say, brief.plan.parts
    computed = [chart for chart in brief.charts if not chart.yarn_measured]
    if not computed and not parts:
        return
    said = say("materials.computed" if computed or not brief.charts else "materials.computed_parts")
    for chart in computed[:1]:
        most = max(chart.knots, key=lambda letter: chart.knots[letter])
        length_mm = _TRIAL_KNOTS * chart.yarn_mm_per_knot[most]
        length = brief.measures.length(length_mm, "up")
        said += say("materials.computed_try", colour=brief.plan.colour(most).name, length=length)
    yield said + (say("materials.computed_try_part") if parts else ())


def _row_heights(brief: Brief, chart: ChartPlan) -> Iterator[Text]:
    """What hanging cords are cut for, where no swatch tells how high a row comes out."""
    heights, measures = chart.row_heights, brief.measures
    if heights is None:
        return
    key = "materials.cords_planned" if len(brief.charts) == 1 else "materials.cords_planned_of"
    yield brief.words.say(
        key,
        piece=brief.piece_name(chart.id),
        planned=measures.length(_TRIAL_ROWS * heights.planned_mm),
        least=measures.length(_TRIAL_ROWS * heights.least_mm),
        most=measures.length(_TRIAL_ROWS * heights.most_mm),
    )


def shopping_blocks(
    brief: Brief, shopping: Sequence[BuyLine], *, with_knots: bool = True
) -> list[Block]:
    """A shopping list, with or without the knots made of it, and its prices."""
    table = shopping_table(brief, shopping, with_knots=with_knots and bool(brief.charts))
    return [*as_lists(brief, table), *_price_blocks(brief, shopping)]


def _price_blocks(brief: Brief, shopping: Sequence[BuyLine]) -> list[Block]:
    """What a shopping list costs, of which month; nothing where that is not to be printed."""
    table, day = price_table(brief, shopping), brief.pattern.prices_as_of
    if table is None or day is None:
        return []
    month = f"{brief.words(f'months.{day.month}')} {day.year}"
    lead = brief.words("materials.prices_lead", month=month)
    return [Heading(brief.words("materials.prices"), lead), *as_lists(brief, table)]


def yarns_to_buy(brief: Brief) -> str:
    """The yarns as they are told above a shopping list."""
    return "; ".join(_yarns(brief))


def _yarns(brief: Brief) -> list[str]:
    words = brief.words
    lines = []
    for yarn in dict.fromkeys(colour.yarn for colour in brief.plan.colours):
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


def tools(brief: Brief, chart: ChartPlan) -> list[Text]:
    """What else than yarn lies on the table."""
    say, measures = brief.words.say, brief.measures
    return [
        say(
            "materials.dowel",
            thick=measures.thickness(chart.mount.diameter_mm),
            length=measures.length(chart.dowel_length_mm, "up"),
        ),
        say(
            "materials.loop",
            length=measures.length(chart.hanging_loop_mm, "up"),
            colour=brief.plan.colour(chart.cord_colour).name,
        ),
        say("materials.hooks"),
        say("materials.scissors"),
        say("materials.needle"),
        say("materials.tags"),
    ]


def _piece(brief: Brief, chart: ChartPlan) -> list[tuple[str, tuple[str, ...]]]:
    words, measures = brief.words, brief.measures
    about = () if chart.cell.measured else (words("materials.gauge_about"),)
    swatch = "gauge_swatch" if chart.cell.measured else "gauge_computed"
    facts = [
        (words("materials.picture"), measures.size(chart.width_mm, chart.height_mm)),
        (words("materials.fringe"), (fringe_words(brief, chart),)),
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
        (words("materials.yarn_knot"), yarn_a_knot(brief, chart)),
        (
            words("materials.weight"),
            weight_lines(brief, chart),
        ),
    ]
    if chart.make > 1:
        facts.append((words("materials.make"), (words.count("materials.make_pieces", chart.make),)))
    return facts


def fringe_words(brief: Brief, chart: ChartPlan) -> str:
    """The fringe's lengths, as its shape needs them said."""
    measures = brief.measures
    return brief.words(
        f"materials.fringe_{chart.fringe_shape}",
        longest=measures.length(max(chart.fringe_mm)),
        shortest=measures.length(min(chart.fringe_mm)),
    )


def yarn_a_knot(brief: Brief, chart: ChartPlan) -> tuple[str, ...]:
    """Yarn a knot: once if all colours take the same, else a line for each length."""
    lengths: dict[str, list[str]] = {}
    for letter, length_mm in chart.yarn_mm_per_knot.items():
        text = brief.words("units.both", **_knot_lengths(brief, length_mm))
        lengths.setdefault(text, []).append(letter)
    if len(lengths) == 1:
        return tuple(lengths)
    return tuple(
        brief.words("materials.yarn_knots", letter=" ".join(letters), length=text)
        for text, letters in lengths.items()
    )


def _knot_lengths(brief: Brief, length_mm: float) -> dict[str, str]:
    metric = brief.words("units.mm", n=units.millimetres(round(length_mm)))
    inch = brief.words("units.inch", n=units.inches(length_mm))
    first, second = (metric, inch) if brief.measures.metric_first else (inch, metric)
    return {"first": first, "second": second}
