"""Plan, draw and publish knotting patterns."""
