"""Confined work: what a stranger's file asks for is done by a process with limits of its own, ended by its parent."""
