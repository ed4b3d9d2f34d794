"""Draw a knot stage by stage, from its geometry."""
