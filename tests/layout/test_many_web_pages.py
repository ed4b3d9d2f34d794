"""However many web pages a process makes, each may do as much as the first."""

from __future__ import annotations

from publisher.layout import lay_out_bench, lay_out_web
from publisher.layout.sandbox import Sandbox
from tests.support.shop import demo, installed, manuscript


def test_web_pages_begin_anew() -> None:
    """The work that templates may do at once is counted for a book, not for all of a run."""
    text = manuscript(demo("tide-lines"), "plain-text")
    bench = manuscript(demo("tide-lines"), "at-the-bench")
    first = lay_out_web(text, installed()), lay_out_bench(bench, installed())
    left: list[int] = []
    begin = Sandbox.begin

    def noted(self: Sandbox, given: object, *, anew: bool = False) -> None:
        begin(self, given, anew=anew)
        left.append(self._left)

    Sandbox.begin = noted  # type: ignore[method-assign]
    try:
        for _ in range(3):
            assert (lay_out_web(text, installed()), lay_out_bench(bench, installed())) == first
    finally:
        Sandbox.begin = begin  # type: ignore[method-assign]
    assert len(set(left)) == 1
