"""Export desk: the log taken away as tables, whole, or by the year; in a process of its own when a page asks."""
