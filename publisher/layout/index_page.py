"""Set an index's cards as one web page, through the writer's template."""

from __future__ import annotations

from publisher.layout.templating import compiled
from publisher.manuscript.blocks import Cards, Manuscript
from publisher.templates import Templates

_PAGE = "pages/index.html"


def lay_out_index(manuscript: Manuscript, templates: Templates) -> str:
    """The index as HTML; pictures and books lie beside it. TemplateError where that is wrong."""
    found = compiled(templates)
    template = found.guard(found.template, _PAGE)
    section = manuscript.sections[0]
    text: str = found.guard(
        template.render,
        title=manuscript.title,
        heading=section.title,
        note=section.note,
        language=manuscript.language,
        cards=[card for block in section.body if isinstance(block, Cards) for card in block.cards],
        colour={name: colour.hex for name, colour in manuscript.look.colours.items()},
    )
    return text
