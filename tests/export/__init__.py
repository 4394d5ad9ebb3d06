"""The log taken away and taken over."""
