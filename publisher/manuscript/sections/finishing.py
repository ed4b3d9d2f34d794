"""Write the finishing: the map of the back, what to tie and trim, and the cautions."""

from __future__ import annotations

from publisher.manuscript.blocks import (
    BackMap,
    Block,
    Caution,
    Heading,
    Items,
    Paragraph,
    Section,
    Text,
)
from publisher.manuscript.context import BookContext
from publisher.manuscript.markup import page_of
from publisher.manuscript.sections.cautions import caution_words
from publisher.manuscript.sections.fringe import fringe_template, has_template
from publisher.model.plan import ChartPlan

_TRIM_MM = 20.0  # left of a tied end
_HANGING_CAUTIONS = ("weight", "free-cords")


def write_finishing(context: BookContext) -> list[Section]:
    """A section a chart; where there is none, one for the parts."""
    if not context.charts:
        return [_for_parts(context)]
    return [_section(context, chart) for chart in context.charts]


def _for_parts(context: BookContext) -> Section:
    words = context.words
    steps = [*blocking(context), words.say("finishing.care")]
    body: list[Block] = [Items(tuple(steps), numbered=True)]
    caution = caution_words(context, _HANGING_CAUTIONS)
    if caution:
        body.append(Caution(words("finishing.caution_use"), caution))
    title = words("finishing.parts_title")
    return Section("finishing", "text", title, title, tuple(body), continues=True)


def blocking(context: BookContext) -> list[Text]:
    """Return how what is knotted is smoothed, by the fibres of its yarns."""
    fibres = dict.fromkeys(c.yarn.fibre for c in context.plan.colours if c.yarn.fibre)
    found = [context.words.say(f"finishing.block_{fibre}") for fibre in fibres]
    if not found:
        return []
    return [*found[:-1], found[-1] + context.words.say("finishing.block_defer")]


def _section(context: BookContext, chart: ChartPlan) -> Section:
    words = context.words
    steps = Items(tuple(_steps(context, chart)), numbered=True)
    beside: tuple[Block, ...] = (Heading(words("finishing.heading")), steps)
    counts = {
        "pairs": words.count("finishing.pairs", len(chart.end_pairs)),
        "singles": words.count("finishing.singles", len(chart.single_ends)),
    }
    turn = "finishing.turn" if chart.single_ends or not context.on_paper else "finishing.turn_pairs"
    last = chart is context.charts[-1]
    caution = caution_words(context, _HANGING_CAUTIONS)
    after: tuple[Block, ...] = (
        (Caution(words("finishing.caution"), caution),) if last and caution else ()
    )
    return Section(
        "finishing" if chart is context.charts[0] else f"finishing-{chart.id}",
        "text",
        context.of_piece(words.texts["finishing.title"], chart.id),
        context.of_piece(words.texts["finishing.running"], chart.id),
        (
            BackMap(chart, words.under("backmap"), counts, beside),
            *fringe_template(context, chart),
            *after,
        ),
        title_later=context.of_piece(words.texts["finishing.title_more"], chart.id),
        lead=(Paragraph(words.say(_key(turn, context))),),
    )


def _cut_fringe(context: BookContext, chart: ChartPlan) -> Text:
    """Say how to cut the fringe as the figure for its shape shows it: with the piece flat and dry,
    on its dowel."""
    said = context.words.say(
        f"finishing.fringe_{chart.piece.fringe.shape}",
        longest=context.measures.metric_or_inch(max(chart.fringe_mm)),
        shortest=context.measures.metric_or_inch(min(chart.fringe_mm)),
    )
    if has_template(context, chart):
        said += context.words.say("finishing.fringe_template")
    return said


def _key(key: str, context: BookContext) -> str:
    """Return a key of the words; of those that go with a list, where the map is one."""
    return key if context.on_paper else f"{key}_told"


def _steps(context: BookContext, chart: ChartPlan) -> list[Text]:
    words, measures = context.words, context.measures
    pair_page = page_of("knot-pair-tied-double-knot")
    steps = []
    if chart.end_pairs:
        steps.append(words.say(_key("finishing.tie", context), page=pair_page))
        steps.append(words.say("finishing.trim", length=measures.metric_or_inch(_TRIM_MM)))
    if chart.single_ends:
        steps.append(words.say(_key("finishing.weave", context)))
    steps += blocking(context)
    if max(chart.fringe_mm) > 0:
        steps.append(_cut_fringe(context, chart))
    steps.append(words.say("finishing.hang", page=page_of("knot-overhand")))
    steps.append(words.say("finishing.care"))
    return steps
