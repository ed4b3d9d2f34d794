"""Write how the pieces are put together: steps in order, and where each part goes."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import compress, groupby

from publisher.drawing import draw_hanging, place_parts
from publisher.manuscript.blocks import (
    Block,
    Caution,
    Cell,
    Column,
    Heading,
    Items,
    Paragraph,
    Picture,
    Section,
    Table,
    TableRow,
    Text,
)
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import page_of, read_marks
from publisher.manuscript.sections.cautions import caution_words
from publisher.model import units
from publisher.model.part_plan import AssemblyPlan, Placement
from publisher.model.plan import ChartPlan

_PICTURE, _PICTURE_LARGE = 0.38, 0.6
"""Of a page's height."""
TRIM_MM = 20.0


def write_assembly(context: BookContext) -> list[Section]:
    """One section, if there is anything to put together."""
    plan, words = context.plan, context.words
    if not plan.assembly:
        return []
    body: list[Block] = []
    caution = caution_words(context, _cautions(context))
    if caution:
        body.append(Caution(words("assembly.caution"), caution))
    told: list[Block] = []
    if any(step.deed == "sew" for step in plan.assembly):
        page = page_of("knot-pair-tied-double-knot")
        length = context.measures.metric_or_inch(TRIM_MM)
        told.append(Paragraph(words.say("assembly.sewing", page=page, length=length)))
    told.append(Items(tuple(_steps(context)), numbered=True))
    pictures = tuple(
        _picture(context, chart) for chart in context.charts if _places(context, chart)
    )
    if pictures and context.on_paper:
        body += context.beside((tuple(told), pictures), (1.0, 1.0))
    else:
        body += told
    for chart in context.charts:
        body += _place_table(context, chart)
    title, running = words("assembly.title"), words("assembly.running")
    return [Section("assembly", "text", title, running, tuple(body))]


def _cautions(context: BookContext) -> Iterator[str]:
    deeds = {step.deed for step in context.plan.assembly}
    if "glue" in deeds:
        yield "hot-glue"
    if deeds & {"sew", "glue"}:
        yield "small-parts"
    if "sew" in deeds:
        yield "cutting-tools"


def _steps(context: BookContext) -> Iterator[Text]:
    """Steps that follow one another and are alike, together."""

    def alike(step: AssemblyPlan) -> tuple[object, ...]:
        place = step.placement
        marked = place is not None and place.mark is not None
        own = "" if marked else f"{step.number}" * bool(step.note)
        return step.deed, step.piece, place.piece if place else "", marked, own

    for _, group in groupby(context.plan.assembly, key=alike):
        yield _step(context, list(group))


def _step(context: BookContext, steps: Sequence[AssemblyPlan]) -> Text:
    words = context.words
    first = steps[0]
    count = sum(step.count for step in steps)
    name = context.piece_name(first.piece)
    said = words.say(f"assembly.{first.deed}", n=count, piece=name)
    marks = [step.placement.mark for step in steps if step.placement and step.placement.mark]
    if len(marks) == 1:
        said += words.say("assembly.at_mark", mark=marks[0])
    elif marks:
        key = "assembly.at_two_marks" if len(marks) == 2 else "assembly.at_marks"
        said += words.say(key, first=marks[0], last=marks[-1])
    elif first.placement is not None:
        said += words.say("assembly.on_piece", piece=context.piece_name(first.placement.piece))
    said += words.say("assembly.stop")
    for step in steps:
        if step.note and not (step.placement and step.placement.mark):
            said += read_marks(" " + step.note.replace("{", "{{").replace("}", "}}"))
    return said


def _places(context: BookContext, chart: ChartPlan) -> list[tuple[AssemblyPlan, Placement]]:
    """Every numbered place on a chart, with the step that fills it."""
    return [
        (step, step.placement)
        for step in context.plan.assembly
        if step.placement and step.placement.piece == chart.id and step.placement.mark
    ]


def _place_table(context: BookContext, chart: ChartPlan) -> Iterator[Block]:
    """Every mark with its part and its place; only columns that have something to say."""
    words, placed = context.words, _places(context, chart)
    if not placed:
        return
    yield Heading(words("assembly.places"), words("assembly.places_lead"))
    if not context.on_paper or context.edition.option("tables_as_lists"):
        yield Items(tuple(_place_words(context, chart, step, place) for step, place in placed))
        return
    columns = (
        Column(words("assembly.mark"), 12),
        Column(words("assembly.part"), 22),
        Column(words("assembly.row"), 11, right=True),
        Column(words("assembly.cord"), 11, right=True),
        Column(words("assembly.tails"), 38),
        Column(words("assembly.lean"), 26),
        Column(words("assembly.note"), 58),
    )
    rows = [_cells(context, chart, step, place) for step, place in placed]
    told = [any(cells[at].text for cells in rows) for at in range(len(columns))]
    yield Table(
        tuple(compress(columns, told)),
        tuple(TableRow(tuple(compress(cells, told))) for cells in rows),
    )


def _place_words(
    context: BookContext, chart: ChartPlan, step: AssemblyPlan, place: Placement
) -> Text:
    """A line of the table, said in a sentence."""
    words = context.words
    said = words.say(
        "assembly.place",
        mark=place.mark,
        piece=context.piece_name(step.piece),
        row=place.row,
        cord=place.cord,
        lean=_lean(context, place),
    )
    if place.between is not None:
        said += words.say("assembly.place_tails", tails=_tails(context, chart, place))
    note = f" ({step.note})" if step.note else ""
    return (
        said + read_marks(note.replace("{", "{{").replace("}", "}}")) + words.say("assembly.stop")
    )


def _picture(context: BookContext, chart: ChartPlan) -> Picture:
    """The piece with all that is fastened to it, every place with its number."""
    look = context.edition.look
    count = len(_places(context, chart))
    wide = look.paper.text_width_mm
    tall = look.paper.text_bottom_mm - look.frame.title_mm
    if not context.edition.option("one_column"):
        wide, tall = (wide - look.frame.column_gap_mm) / 2, tall * _PICTURE
    else:
        tall *= _PICTURE_LARGE
    figure = draw_hanging(
        chart,
        context.plan.colours,
        look,
        wide,
        tall,
        place_parts(context.plan, chart.id, context.knots.__getitem__),
        look.type["map-number"].size_pt,
        context.store,
    )
    return Picture(figure.with_alt(context.words("assembly.alt", count=count)))


def _cells(
    context: BookContext, chart: ChartPlan, step: AssemblyPlan, place: Placement
) -> tuple[Cell, ...]:
    return (
        Cell(units.whole(place.mark or 0)),
        Cell(context.piece_name(step.piece)),
        Cell(units.whole(place.row or 0)),
        Cell(units.whole(place.cord or 0)),
        Cell(_tails(context, chart, place)),
        Cell(_lean(context, place)),
        Cell(step.note),
    )


def _tails(context: BookContext, chart: ChartPlan, place: Placement) -> str:
    """The gaps between cords that the two tails go through."""
    if place.between is None:
        return ""
    return context.words("assembly.and").join(
        context.words("assembly.edge")
        if pair[0] == 0 or pair[1] > chart.columns
        else context.words("assembly.between", one=pair[0], other=pair[1])
        for pair in place.between
    )


def _lean(context: BookContext, place: Placement) -> str:
    words, turn = context.words, place.turn_degrees
    if not turn:
        return words("assembly.upright")
    side = words("sides.right" if turn > 0 else "sides.left")
    return words("assembly.leaning", degrees=units.whole(abs(turn)), side=side)
