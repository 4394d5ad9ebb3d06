"""The scale: lines, framing, the port, over real pseudo-terminals."""
