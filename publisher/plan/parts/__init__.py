"""Plan small knotted parts: where every cord lies, how much it takes, how large the part is."""
