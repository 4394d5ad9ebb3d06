"""The simulated scale."""
