"""How is one value shown or entered? One widget a file; it posts one message and holds no job state."""
