"""Read a page's SVG: its tree, paths, shapes, paint and transforms."""
