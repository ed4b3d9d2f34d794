"""List the yarn ends at the back, and pair those that can be tied."""
