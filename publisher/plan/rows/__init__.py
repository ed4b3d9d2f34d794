"""Read a chart's cells in working order, and say what happens to the yarns in each row."""
