"""Do jobs on a dask cluster."""

from __future__ import annotations

import threading
from collections.abc import Iterable, Iterator
from concurrent.futures import Future
from contextlib import suppress
from typing import Any

from publisher.catalogue.build.job import Toolkit, do
from publisher.catalogue.build.pool import share_out
from publisher.catalogue.build.values import BuildJob, Result
from publisher.errors import Place, Problem, UsageError

_PATIENCE_S = 10.0  # with a cluster that does not answer


class Cluster:
    """Workers of a dask cluster, on this machine or others, with the same program installed."""

    def __init__(self, toolkit: Toolkit, address: str) -> None:
        self._client = _client(address)
        self._executor = self._client.get_executor(pure=False)
        self._toolkit = self._client.submit(_itself, toolkit, pure=False)
        self.window = 2 * max(1, sum(self._client.nthreads().values()))

    def work(self, jobs: Iterable[BuildJob]) -> Iterator[tuple[BuildJob, Result]]:
        return share_out(self, jobs)

    def take(self, job: BuildJob) -> Future[Result]:
        future: Future[Result] = self._executor.submit(_do_one_at_a_time, self._toolkit, job)
        return future

    def again(self, job: BuildJob) -> Result:
        return self.take(job).result()

    def close(self) -> None:
        with suppress(Exception):  # whatever is left to say goodbye to
            self._client.close()


def _itself(toolkit: Toolkit) -> Toolkit:
    """The toolkit as a task's result: a cluster makes that again where a worker with it is lost."""
    return toolkit


_turn = threading.Lock()


def _do_one_at_a_time(toolkit: Toolkit, job: BuildJob) -> Result:
    """A cluster's worker may have several threads, and drawing is for one."""
    with _turn:
        return do(toolkit, job)


def _client(address: str) -> Any:
    try:
        import distributed
    except ImportError:
        hint = "pip install 'publisher[cluster]'"
        raise UsageError(Problem(Place("--cluster"), "dask is not installed", hint)) from None
    connect: Any = distributed.Client
    try:
        return connect(address, timeout=_PATIENCE_S, set_as_default=False)
    except (OSError, ValueError) as error:
        message = f"no cluster answers at {address} ({' '.join(str(error).split())[:120]})"
        hint = "start its scheduler, or leave --cluster out"
        raise UsageError(Problem(Place("--cluster"), message, hint)) from None
