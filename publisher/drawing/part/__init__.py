"""Draw a small knotted part: its steps, and the part as it looks when finished."""
