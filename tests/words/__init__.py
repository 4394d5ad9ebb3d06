"""Texts and their translations: gathered from the code, kept in catalogues, held against each other."""
