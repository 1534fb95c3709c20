"""Later words that change earlier readings: corrections, repeats, `same for the ham`, two swapped."""
