"""Set a manuscript, or an index's cards, as one web page, through the writer's template."""

from __future__ import annotations

from publisher.layout.reading import read_aloud
from publisher.layout.templating import web_page
from publisher.manuscript.blocks import Cards, Manuscript
from publisher.templates import Templates


def lay_out_web(manuscript: Manuscript, templates: Templates) -> str:
    """The whole book as HTML, in itself complete. TemplateError where the template is wrong."""
    return web_page(
        templates,
        "reading",
        manuscript.look,
        said=read_aloud(manuscript),
        title=manuscript.title,
        author=manuscript.author,
        language=manuscript.language,
        version=manuscript.version,
        labels=manuscript.words,
    )


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
