"""The record on disk: the journal, the tables derived from it, and who may read them."""
