"""Make a chart from a picture, in a new pattern file or in place of one that is there."""
