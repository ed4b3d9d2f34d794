"""Draw the colour chart: tiles, symbols, numbered cords and rows, key and marks."""
