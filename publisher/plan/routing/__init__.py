"""Find the route of every yarn: the fewest yarns, the least carried length, the joins."""
