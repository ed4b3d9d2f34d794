"""Set a manuscript as one web page that reads well aloud, through the writer's template."""

from __future__ import annotations

from publisher.layout.reading import read_aloud
from publisher.layout.templating import compiled
from publisher.manuscript.blocks import Manuscript
from publisher.templates import Templates

_PAGE = "pages/reading.html"


def lay_out_web(manuscript: Manuscript, templates: Templates) -> str:
    """The whole book as HTML, in itself complete. TemplateError where the template is wrong."""
    found = compiled(templates)
    template = found.guard(found.template, _PAGE)
    text: str = found.guard(
        template.render,
        said=read_aloud(manuscript),
        title=manuscript.title,
        author=manuscript.author,
        language=manuscript.language,
        version=manuscript.version,
        labels=manuscript.words,
        colour={name: colour.hex for name, colour in manuscript.look.colours.items()},
    )
    return text
