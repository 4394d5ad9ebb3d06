"""Small trials: which casts to make, in what order, what they can find, and what they found."""
