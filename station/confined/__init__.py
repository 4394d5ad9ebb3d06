"""Confined work: what strangers' files ask for is done by a process of its own, with limits, and ended by its parent."""
