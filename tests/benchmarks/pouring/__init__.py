"""How well the guidance leads simulated people: figures, run by hand."""
