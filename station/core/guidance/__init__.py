"""Guidance: leads a hand into its window with a pace and a stop. It may say, never accept."""
