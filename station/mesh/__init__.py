"""Measuring the mesh of a positive, in a process of its own that may fail without the bench taking notice."""
