"""Run a watch from the command line: its page in the browser, its builds in lines, until Ctrl-C."""

from __future__ import annotations

import signal
import threading
from collections.abc import Sequence
from contextlib import suppress
from types import FrameType

import click

from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.values import Aftermath, Outcome
from publisher.catalogue.watch.board import Board
from publisher.catalogue.watch.serving import start_server
from publisher.catalogue.watch.watching import Watch
from publisher.catalogue.workshop import Workshop
from publisher.cli.reporter import say_problems, say_trace
from publisher.cli.summary import aftermath_in_words, what_became
from publisher.errors import Problem


class _Lines:
    """A line for each thing that was made, and each problem once until it is mended."""

    def __init__(self) -> None:
        self._said: set[Problem] = set()

    def outcome(self, outcome: Outcome) -> None:
        self.problems(outcome.problems)
        say_trace(outcome.trace)
        click.echo(f"{outcome.slug}: {what_became(outcome)}, in {outcome.seconds:.1f} s")

    def problems(self, problems: Sequence[Problem]) -> None:
        say_problems(problem for problem in dict.fromkeys(problems) if problem not in self._said)
        self._said.update(problems)

    def aftermath(self, after: Aftermath) -> None:
        if after.index:
            self.problems(after.index.problems)
        for line in aftermath_in_words(after, why=False):
            click.echo(line)
        self._said.clear()


def watch_until_stopped(
    workshop: Workshop,
    names: tuple[str, ...],
    editions: tuple[str, ...],
    papers: tuple[str, ...],
    port: int | None,
    browser: bool,
) -> None:
    """Serve and build until the process is interrupted or told to end. UsageError for a port."""
    board, stages = Board(), Pipeline()
    watch = Watch(workshop, names, editions, papers, board, _Lines(), stages)
    server = start_server(board, workshop.out, stages, port)

    told: list[int] = []

    def end(number: int, frame: FrameType | None) -> None:
        """End after the pattern in work; at once if told again."""
        told.append(number)
        watch.end_soon()
        if len(told) > 1:
            raise KeyboardInterrupt

    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, end)
    threading.Thread(
        target=server.serve_forever, kwargs={"poll_interval": 0.1}, daemon=True
    ).start()
    click.echo(f"showing {server.address} ; Ctrl-C stops")
    try:
        if browser:
            click.launch(server.address)
        with suppress(KeyboardInterrupt):
            watch.run()
        click.echo("stopped; every file is whole, as it was or as it is now")
    finally:
        watch.stop()
        server.shutdown()
        server.server_close()
