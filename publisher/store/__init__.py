"""Find again what was made before, by all that it was made from."""

from publisher.store.packs import pack, unpack
from publisher.store.store import NO_STORE, Memory, Store, digest_of_values

__all__ = ["NO_STORE", "Memory", "Store", "digest_of_values", "pack", "unpack"]
