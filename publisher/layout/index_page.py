"""Set an index's cards as one web page, through the writer's template."""

from __future__ import annotations

from publisher.layout.templating import web_page
from publisher.manuscript.blocks import Cards, Manuscript
from publisher.templates import Templates


def lay_out_index(manuscript: Manuscript, templates: Templates) -> str:
    """The index as HTML; pictures and books lie beside it. TemplateError where that is wrong."""
    section = manuscript.sections[0]
    return web_page(
        templates,
        "index",
        manuscript.look,
        title=manuscript.title,
        heading=section.title,
        note=section.note,
        language=manuscript.language,
        cards=[card for block in section.body if isinstance(block, Cards) for card in block.cards],
    )
