"""Drawings and plots as values: marks with a meaning, turned into SVG at the edge."""
