"""Turn planned pieces into lists: what to cut, what to buy, which cords to hang."""
