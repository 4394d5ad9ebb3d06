"""What a workshop's casts say about each other. Pure: facts in, figures with their intervals out."""
