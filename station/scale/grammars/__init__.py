"""Grammars: one small function per frame family, from the text of a complete line to its meaning.

Each accepts the documented layout and its known relatives and nothing else: a line that does not fit is
None, and no pattern takes the first number it can find.
"""
