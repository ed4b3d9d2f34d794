"""The values that rooms pass on: patterns, plans, figures, looks, books, colours, lengths."""
