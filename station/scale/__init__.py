"""The bench scale: bytes to readings, the table of frame families, and the thread that owns the port."""
