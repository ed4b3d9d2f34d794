"""Draw the map of the back: yarn ends, and which to tie to each other."""
