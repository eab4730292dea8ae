"""Which occasion is on the screen? One screen a file, its style sheet beside it."""
