"""Draw the finished piece as it hangs: dowel, cords, knots, fringe, the parts sewn on."""
