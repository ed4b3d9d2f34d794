"""Tools that all drawings share: pens, outlines, numbers, lettering, canvases."""
