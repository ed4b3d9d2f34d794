"""Compare two releases of a pattern, and write the sheet that says what changed."""
