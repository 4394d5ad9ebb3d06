"""The bench as pure values: inputs in, new state and effects out. No I/O, no clock, no threads."""
