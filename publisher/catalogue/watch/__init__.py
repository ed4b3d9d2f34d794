"""Rebuild what changes as it is saved, and show it in a local web page."""
