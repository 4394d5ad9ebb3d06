"""How surely the bench tells apart what happens on the pan: cups, hands, bumps, first drops, rest. Run by hand."""
