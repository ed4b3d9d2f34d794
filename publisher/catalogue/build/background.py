"""Do one thing beside the rest: a thread whose result is asked for later."""

from __future__ import annotations

import threading
from collections.abc import Callable
from typing import TypeVar

_Done = TypeVar("_Done")


def in_background(work: Callable[[], _Done]) -> Callable[[], _Done]:
    """Begin it, and give what waits for its result, or raises its error.

    The standard library's pools do this too, and take longer to load than they save here. Where
    the system has no thread to give, it is done at once.
    """
    done: list[_Done] = []
    failed: list[BaseException] = []

    def run() -> None:
        try:
            done.append(work())
        except BaseException as error:  # raised where the result is asked for
            failed.append(error)

    thread = threading.Thread(target=run)
    try:
        thread.start()
    except RuntimeError:
        run()

    def ask() -> _Done:
        if thread.ident is not None:
            thread.join()
        if failed:
            raise failed[0]
        return done[0]

    return ask
