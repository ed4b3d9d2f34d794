"""Find values again by what they were made from, in this process and from run to run."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from hashlib import blake2b
from types import MappingProxyType
from typing import Any, TypeVar, cast

from publisher.store.packs import from_bytes, pack, to_bytes, unpack

_T = TypeVar("_T")

NOTHING: Mapping[str, bytes] = MappingProxyType({})

_MOST = 24_000_000
"""Of the weight of values, in bytes about: so much is at hand in a process, and so much is
collected of one target. The editions of a usual pattern have a tenth of it."""


class Memory:
    """The values at hand in a process, by their keys, and the entries that all targets share."""

    def __init__(self, made_by: str = "", shared: Mapping[str, bytes] = NOTHING) -> None:
        """`made_by`: a digest of the program: what another one made is not found."""
        self.made_by = made_by
        self.shared = shared
        self._values: dict[str, Any] = {}
        self._room = _MOST

    def find(self, key: str) -> Any:
        """Return the value of a key, None where it is not at hand."""
        return self._values.get(key)

    def remember(self, key: str, value: Any, weight: int) -> None:
        """Have a value at hand for what follows; begin anew where there is no room."""
        if key in self._values:
            return
        if weight > self._room:
            self._values.clear()
            self._room = _MOST
        self._room -= weight
        self._values[key] = value


class Store:
    """Values of one target by keys that tell all that they were made from; what is lacking is made.

    It has what the target used the last time, and collects what it uses now. Nothing is locked: of
    two threads that ask for the same, both may make it.
    """

    def __init__(self, memory: Memory | None = None, packed: bytes = b"") -> None:
        """`memory`: without one, nothing is found or collected. `packed`: what was collected of
        this target in an earlier run."""
        self._memory = memory
        self._packed = unpack(packed, memory.made_by) if memory and packed else {}
        self._used: dict[str, Any] = {}
        self._room = _MOST
        self._fresh: dict[str, Any] = {}

    def get(
        self,
        made_from: object,
        make: Callable[[], _T],
        weigh: Callable[[_T], int],
        *,
        shared: bool = False,
    ) -> _T:
        """Return what `make` makes, from `made_from` alone.

        `made_from` begins with a word for what it is, and its `repr` says all. `weigh`: about how
        many bytes a value has. `shared`: it is collected for all targets, not for this one.
        """
        memory = self._memory
        if memory is None:
            return make()
        key = digest_of_values(made_from)
        value = self._find(memory, key)
        if value is None:
            value = make()
            if shared:
                self._fresh[key] = value
        weight = weigh(value)
        memory.remember(key, value, weight)
        if not shared and key not in self._used and weight <= self._room:
            self._room -= weight
            self._used[key] = value
        return cast(_T, value)

    def _find(self, memory: Memory, key: str) -> Any:
        found = memory.find(key)
        for packed in (self._packed, memory.shared):
            if found is None and key in packed:
                found = from_bytes(packed[key])
        return found

    def collect(self) -> bytes:
        """Pack what was used; nothing where that is what the store came with."""
        if self._memory is None or self._used.keys() == self._packed.keys():
            return b""
        known = self._packed
        entries = {key: known.get(key) or to_bytes(value) for key, value in self._used.items()}
        return pack(entries, self._memory.made_by)

    def collect_shared(self) -> dict[str, bytes]:
        """Return what was made anew for all targets, by its keys."""
        return {key: to_bytes(value) for key, value in self._fresh.items()}


NO_STORE = Store()
"""It makes everything anew, and collects nothing."""


def digest_of_values(values: object) -> str:
    """The same for values that are the same, in every process: they say all in their `repr`."""
    return blake2b(repr(values).encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()
