"""What is done beside the rest comes back as if it had been done in its place."""

from __future__ import annotations

import threading

import pytest

from publisher.catalogue.build.background import in_background


def test_work_goes_on_while_nobody_asks_and_is_done_once() -> None:
    begun, go_on, times = threading.Event(), threading.Event(), []

    def work() -> str:
        begun.set()
        assert go_on.wait(10)
        times.append(1)
        return "painted"

    ask = in_background(work)
    assert begun.wait(10)
    go_on.set()
    assert (ask(), ask()) == ("painted", "painted")
    assert times == [1]


def test_an_error_is_raised_where_the_result_is_asked_for() -> None:
    def work() -> str:
        raise ValueError("the paint was spilt")

    ask = in_background(work)
    with pytest.raises(ValueError, match="the paint was spilt"):
        ask()


def test_without_a_thread_to_be_had_it_is_done_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(self: threading.Thread) -> None:
        raise RuntimeError("can't start new thread")

    monkeypatch.setattr(threading.Thread, "start", refuse)
    assert in_background(lambda: "painted")() == "painted"
