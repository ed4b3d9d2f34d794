"""The pattern format, table by table: every key with its rule, its meaning and an example."""
