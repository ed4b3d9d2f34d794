"""A template from a stranger can write pages, and nothing else: what it tries besides is told in
its own line, soon, and without the machine's memory running full.

The ways out of Jinja2 that are tried here are widely published; so are the ways to run a machine
full. Jinja2's documentation of its sandbox says that it leaves the second to those who use it.
"""

from __future__ import annotations

import resource
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from publisher.errors import Problem, TemplateError
from publisher.layout import lay_out_web
from publisher.layout.lint import lint_templates
from tests.support.shop import book, demo, installed, manuscript, with_files

PAGE = "pages/text.svg"
MOST_SECONDS, MOST_BYTES = 5.0, 500_000_000
OUTSIDE = "unsafe"
ENDLESS = "without end"

READS_WHAT_IT_MAY_NOT = [
    "{{ cycler.__init__.__globals__.os.system('true') }}",
    "{{ ''.__class__.__mro__[1].__subclasses__() }}",
    "{{ ''['__class__'] }}",
    "{{ ink.line.__func__.__globals__ }}",
    "{{ ink._look }}",
    "{{ namespace.__init__.__globals__ }}",
    "{{ self._TemplateReference__context }}",
    "{{ range.__globals__ }}",
    "{{ ([]|map('upper')).gi_frame }}",
    "{% macro m() %}{% endmacro %}{{ m._func.__globals__ }}",
    "{{ [''.__class__]|map(attribute='__mro__')|join }}",
    "{{ '{0.__class__}'.format(1) }}",
    "{{ '{a}'.format_map({'a': 1}) }}",
    "{{ {'a': 1}.update({'b': 2}) }}",
    "{{ [1].append(2) }}",
    "{{ (5).to_bytes(4000000000, 'big') }}",
    "{{ 'x'.center(4000000000) }}",
    "{{ 'x'.ljust(4000000000) }}",
    "{{ 'x'.zfill(4000000000) }}",
    "{{ '\t'.expandtabs(4000000000) }}",
    "{{ 'x'.encode() }}",
    "{{ 'x'.join(['a', 'b']) }}",
    "{{ ('a'|safe).replace('a', 'b') }}",
]
GOES_ON_WITHOUT_END = [
    "{{ 'x' * 4000000000 }}",
    "{{ 4000000000 * 'x' }}",
    "{{ [0] * 4000000000 }}",
    "{{ ('x' * 1000) * 4000000 }}",
    "{{ 9 ** (9 ** 9) }}",
    "{{ (9 ** 99999) ** 99999 }}",
    "{% for i in range(100000) %}{% for j in range(100000) %}{% endfor %}{% endfor %}",
    "{% for i in range(99999) if i < 0 %}{% else %}{% for j in range(99999) if j < 0 %}{% endfor %}"
    "{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = n.x ~ n.x %}{% endfor %}",
    "{% set n = namespace(x='x') %}{% for i in range(99) %}{% set n.x = n.x + n.x %}{% endfor %}",
    "{% set n = namespace(x=3) %}{% for i in range(99) %}{% set n.x = n.x * n.x %}{% endfor %}",
    "{% set n = namespace(x=[1]) %}{% for i in range(99) %}{% set n.x = [n.x, n.x] %}{% endfor %}",
    "{% set n = namespace(x=1) %}{% for i in range(99) %}{% set n.x = {1: n.x, 2: n.x} %}"
    "{% endfor %}",
    "{% set n = namespace(x={}) %}{% for i in range(99) %}{% set n.x = dict(a=n.x, b=n.x) %}"
    "{% endfor %}",
    "{% set n = namespace(x='x' * 9999) %}{% for i in range(9999) %}{% set n.x = n.x[:] ~ 'x' %}"
    "{% endfor %}",
    "".join(
        f"{{% set x{n + 1} %}}{{{{ x{n} }}}}{{{{ x{n} }}}}{{% endset %}}" for n in range(60)
    ).replace("{{ x0 }}", "xxxxxxxx"),
    "{% macro m(n) %}{% if n %}{{ m(n - 1) }}{{ m(n - 1) }}{% endif %}{% endmacro %}{{ m(99) }}",
    "{% macro m(n) %}{% set c = caller %}{% if n %}{% call m(n - 1) %}{{ c() }}{{ c() }}"
    "{% endcall %}{% else %}{{ c() }}{% endif %}{% endmacro %}{% call m(99) %}x{% endcall %}",
    "{% set n = namespace(x=[]) %}{% for i in range(19) %}{% set n.x = [n.x] %}{% endfor %}"
    "{% for i in n.x recursive %}{{ loop(i) }}{{ loop(i) }}{{ loop(i) }}{% endfor %}",
    "{{ range(99999)|list|batch(9)|list|join('x' * 9999) }}",
    "{{ (range(9999)|map('string'))|join('x' * 99999) }}",
    "{{ ('x' * 99999)|replace('x', 'x' * 99999) }}",
    "{{ ('x' * 99999)|replace('', 'x' * 99999) }}",
    "{{ ('\n' * 999999)|indent(999) }}",
    "{{ ('\n' * 99999)|indent('x' * 99999) }}",
    "{{ (range(99999)|list)|tojson(999) }}",
    "{{ (range(99999)|list)|select('in', range(99999)|list)|list }}",
    "{% for i in range(9999) %}{% if range(9999)|list == range(9999)|list %}{% endif %}"
    "{% endfor %}",
    "{% for i in range(9999) %}{% if 'y' in 'x' * 99999 %}{% endif %}{% endfor %}",
    "{% for i in range(9999) %}{{ ('x' * 9999).count('y') }}{% endfor %}",
    "{% for i in range(99999) %}{{ ink.words(0, 0, 'x' * 999, 'body') }}{% endfor %}",
    "{% for i in range(9999) %}" + "x" * 9999 + "{% endfor %}",
    "{% for i in range(9999) %}{% include 'blocks/text.svg' %}{% endfor %}",
    "{% include 'pages/text.svg' %}",
    "{{ '&' * 4999999 }}",
    "{{ 5000000 * '\U0001f6f6' }}",
]
IS_TOLD_OTHERWISE = [
    ("{{ range(1000000000) }}", "Range too big"),
    ("{{ [1] }}", "can't be written"),
    ("{{ 'x' ~ {1: 1} }}", "can't be written"),
    ("{{ ['x']|map('upper') }}", "can't be written"),
    ("{{ 'x'|center(4000000000) }}", "a number over 1000"),
    ("{{ 1|n(4000000000) }}", "a number over 1000"),
    ("{{ 'x'|indent(4000000000) }}", "a number over 1000"),
    ("{{ ['x']|batch(4000000000, 'x')|list }}", "a number over 1000"),
    ("{{ ['x']|slice(4000000000)|list }}", "a number over 1000"),
    ("{{ 1|round(4000000000, 'floor') }}", "a number over 1000"),
    ("{{ ['x']|tojson(4000000000) }}", "a number over 1000"),
    ("{{ '%4000000000d' % 1 }}", "a number over 999"),
    ("{{ '%*d' % (4000000000, 1) }}", "a format has a *"),
    ("{{ '%.4000000000f'|format(1) }}", "a number over 999"),
    ("{{ ('%' ~ 4000000000 ~ 'd')|format(1) }}", "a number over 999"),
    ("{{ lipsum(n=4000000000) }}", "'lipsum' is undefined"),
    ("{{ 'http://a.b'|urlize }}", "No filter named 'urlize'"),
    ("{{ 'x'|attr('__class__') }}", "No filter named 'attr'"),
    ("{{ range(9)|random }}", "No filter named 'random'"),
    ("{% macro m() %}{{ m() }}{% endmacro %}{{ m() }}", "calls or includes itself"),
    ("{{ self.footer() }}", "calls or includes itself"),
    ("{% include '../../etc/passwd' %}", "there is no template ../../etc/passwd"),
    ("{% import '/etc/passwd' as m %}", "there is no template /etc/passwd"),
    ("{{ " + "(" * 500 + "1" + ")" * 500 + " }}", "nested too deeply"),
    ("{{ " + "-" * 5000 + "1 }}", "nested too deeply"),
    ("{{ 1" + " + 1" * 5000 + " }}", "nested too deeply"),
    ("{{ x" + ".x" * 5000 + " }}", "nested too deeply"),
    ("{% for i in 'x' %}" * 30 + "{% endfor %}" * 30, "nested too deeply"),
    ("{% if 1 %}" * 500 + "{% endif %}" * 500, "nested too deeply"),
    ("{{ 1 }}" * 20_000, "over 20,000 words and signs"),
    ("{{ 9" + "9" * 5000 + " }}", "nested too deeply, or too long"),
]


@contextmanager
def little_memory() -> Iterator[None]:
    """No more than a template may take, besides what is in use."""
    in_use = int(Path("/proc/self/statm").read_text().split()[0]) * resource.getpagesize()
    _, hard = resource.getrlimit(resource.RLIMIT_AS)
    resource.setrlimit(resource.RLIMIT_AS, (in_use + MOST_BYTES, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (hard, hard))


def told(files: dict[str, str]) -> Problem:
    """What is told of a book with a writer's own templates, soon."""
    started = time.process_time()
    with little_memory(), pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files(files))
    assert time.process_time() - started < MOST_SECONDS
    (problem,) = caught.value.problems
    return problem


def told_of(tried: str) -> str:
    """What is told of what is tried in the third line of a page's template."""
    begin = '{% extends "pages/frame.svg" %}\n{% block footer %}\n'
    problem = told({PAGE: f"{begin}{tried}\n{{% endblock %}}\n"})
    assert str(problem.place) == f"templates/{PAGE}:3"
    assert problem.hint and len(problem.message) < 300
    return problem.message


@pytest.mark.parametrize("tried", READS_WHAT_IT_MAY_NOT)
def test_no_template_gets_behind_what_it_is_given(tried: str) -> None:
    assert OUTSIDE in told_of(tried)


@pytest.mark.parametrize("tried", GOES_ON_WITHOUT_END)
def test_what_never_ends_is_told(tried: str) -> None:
    assert ENDLESS in told_of(tried.replace("\n", "\\n"))


@pytest.mark.parametrize(("tried", "message"), IS_TOLD_OTHERWISE)
def test_what_is_too_much_is_told(tried: str, message: str) -> None:
    assert message in told_of(tried)


LOOP = "{% for i in range(99999) %}{% for j in range(99999) %}{% endfor %}{% endfor %}"
TABLE, FRAME, WEB = "blocks/table.svg", "pages/frame.svg", "pages/reading.html"


def with_loop(name: str, before: str) -> tuple[dict[str, str], str]:
    """One of the installed templates with an endless loop before something, and its place."""
    text = installed().text(name)
    assert text.count(before) == 1
    line = text[: text.index(before)].count("\n") + 1
    return {name: text.replace(before, LOOP + before)}, f"templates/{name}:{line}"


@pytest.mark.parametrize(
    ("name", "before"),
    [
        (TABLE, '<g data-tag="TR"><g data-tag="TH" data-scope="Row">'),
        (TABLE, "{% macro row("),
        (FRAME, "{{ body }}"),
        ("blocks/text.svg", '<g data-tag="H2">{{ ink.line(x + left'),
        ("pages/cover.svg", "{% block header %}"),
    ],
)
def test_a_loop_without_end_is_told_wherever_it_stands(name: str, before: str) -> None:
    files, place = with_loop(name, before)
    problem = told(files)
    assert ENDLESS in problem.message and str(problem.place) == place


def test_a_loop_without_end_in_a_web_page_is_told() -> None:
    files, place = with_loop(WEB, "<main>")
    with little_memory(), pytest.raises(TemplateError) as caught:
        lay_out_web(manuscript(demo("heron-step"), "plain-text"), with_files(files))
    (problem,) = caught.value.problems
    assert ENDLESS in problem.message and str(problem.place) == place


def test_a_little_too_much_in_every_box_is_told_as_well() -> None:
    """What is left over from one macro does not add up for the next without end."""
    macro = "{% macro lines(x, y, lines, role, dx) -%}"
    text = installed().text("blocks/text.svg")
    loop = "{% for i in range(9000) %}{% endfor %}"
    problem = told({"blocks/text.svg": text.replace(macro, macro + loop)})
    assert ENDLESS in problem.message


def test_looking_templates_over_tells_what_includes_itself_and_what_never_ends_to_read() -> None:
    deep = "{{ " + "(" * 500 + ")" * 500 + " }}"
    files = with_files({PAGE: "{% include 'pages/text.svg' %}{{ body }}", TABLE: "\n\n" + deep})
    assert [str(problem.place) for problem in lint_templates(files)] == [f"templates/{TABLE}:3"]
    alone = with_files({PAGE: "{% include 'pages/text.svg' %}"})
    assert [problem.message for problem in lint_templates(alone)] == [
        "the frame has the page's body nowhere"
    ]


USUAL = """{% set names = ['weir', 'reed']|map('upper')|list -%}
{{ names|join(', ') }}; {{ '%.2f'|format(7.2) }}; {{ '%d of %d' % (1, 2) }}; {{ 'x'|center(5) }};
{{- 3 ** 2 }}; {{ 'ab' * 3 }}; {{ 'one' + ' knot' }}; {{ 'a-b'|replace('-', ' ') }};
{%- set count = namespace(n=0) %}{% for i in range(200) if i % 2 %}{% set count.n = count.n + i %}
{%- endfor %} {{ count.n }}; {{ 2.5|round(1) }}; {{ names[:1]|first|lower }}; {{ ('a', 'b')[1] }};
{{- names|length }}; {{ 'a' in names }}; {{ 1.50|n }}; {{ [3, 1, 2]|sort|join('<') }}; {{ 1 ~ '&' }}
"""


def test_what_pages_use_gives_what_it_always_gave() -> None:
    page = (
        '{% extends "pages/frame.svg" %}{% block footer %}<desc>' + USUAL + "</desc>{% endblock %}"
    )
    (first, *_) = book(demo("heron-step"), "handout", templates=with_files({PAGE: page})).pages
    written = first.frame.split("<desc>")[1].split("</desc>")[0]
    assert " ".join(written.split()) == (
        "WEIR, REED; 7.20; 1 of 2; x ;9; ababab; one knot; a b; 10000; 2.5; weir; b;2; False; 1.5; "
        "1&lt;2&lt;3; 1&amp;"
    )
