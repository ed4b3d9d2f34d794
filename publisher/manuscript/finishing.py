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
from publisher.manuscript.brief import Brief
from publisher.manuscript.cautions import caution_words
from publisher.manuscript.fringe import fringe_template, has_template
from publisher.manuscript.markup import page_of
from publisher.plan.values import ChartPlan

_TRIM_MM = 20.0  # left of a tied end
_HANGING_CAUTIONS = ("weight", "free-cords")


def write_finishing(brief: Brief) -> list[Section]:
    """A section a chart; where there is none, one for the parts."""
    if not brief.charts:
        return [_for_parts(brief)]
    return [_section(brief, chart) for chart in brief.charts]


def _for_parts(brief: Brief) -> Section:
    words = brief.words
    steps = [*blocking(brief), words.say("finishing.care")]
    body: list[Block] = [Items(tuple(steps), numbered=True)]
    caution = caution_words(brief, _HANGING_CAUTIONS)
    if caution:
        body.append(Caution(words("finishing.caution_use"), caution))
    title = words("finishing.parts_title")
    return Section("finishing", "text", title, title, tuple(body), continues=True)


def blocking(brief: Brief) -> list[Text]:
    """How what is knotted is smoothed, by the fibres of its yarns."""
    fibres = dict.fromkeys(c.yarn.fibre for c in brief.plan.colours if c.yarn.fibre)
    found = [brief.words.say(f"finishing.block_{fibre}") for fibre in fibres]
    if not found:
        return []
    return [*found[:-1], found[-1] + brief.words.say("finishing.block_defer")]


def _section(brief: Brief, chart: ChartPlan) -> Section:
    words = brief.words
    steps = Items(tuple(_steps(brief, chart)), numbered=True)
    beside: tuple[Block, ...] = (Heading(words("finishing.heading")), steps)
    counts = {
        "pairs": words.count("finishing.pairs", len(chart.end_pairs)),
        "singles": words.count("finishing.singles", len(chart.single_ends)),
    }
    turn = "finishing.turn" if chart.single_ends or not brief.on_paper else "finishing.turn_pairs"
    last = chart is brief.charts[-1]
    caution = caution_words(brief, _HANGING_CAUTIONS)
    after: tuple[Block, ...] = (
        (Caution(words("finishing.caution"), caution),) if last and caution else ()
    )
    return Section(
        "finishing" if chart is brief.charts[0] else f"finishing-{chart.id}",
        "text",
        brief.of_piece(words.texts["finishing.title"], chart.id),
        brief.of_piece(words.texts["finishing.running"], chart.id),
        (
            BackMap(chart, words.under("backmap"), counts, beside),
            *fringe_template(brief, chart),
            *after,
        ),
        title_later=brief.of_piece(words.texts["finishing.title_more"], chart.id),
        lead=(Paragraph(words.say(_key(turn, brief))),),
    )


def _cut_fringe(brief: Brief, chart: ChartPlan) -> Text:
    """As the figure for its shape shows it: with the piece flat and dry, on its dowel."""
    said = brief.words.say(
        f"finishing.fringe_{chart.fringe_shape}",
        longest=brief.measures.metric_or_inch(max(chart.fringe_mm)),
        shortest=brief.measures.metric_or_inch(min(chart.fringe_mm)),
    )
    if has_template(brief, chart):
        said += brief.words.say("finishing.fringe_template")
    return said


def _key(key: str, brief: Brief) -> str:
    """Where the map is a list, the words that go with it."""
    return key if brief.on_paper else f"{key}_told"


def _steps(brief: Brief, chart: ChartPlan) -> list[Text]:
    words, measures = brief.words, brief.measures
    pair_page = page_of("knot-pair-tied-double-knot")
    steps = []
    if chart.end_pairs:
        steps.append(words.say(_key("finishing.tie", brief), page=pair_page))
        steps.append(words.say("finishing.trim", length=measures.metric_or_inch(_TRIM_MM)))
    if chart.single_ends:
        steps.append(words.say(_key("finishing.weave", brief)))
    steps += blocking(brief)
    if max(chart.fringe_mm) > 0:
        steps.append(_cut_fringe(brief, chart))
    steps.append(words.say("finishing.hang", page=page_of("knot-overhand")))
    steps.append(words.say("finishing.care"))
    return steps
