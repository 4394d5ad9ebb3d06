"""Photos of casts: a file from a phone becomes a plain small JPEG, in a process of its own with limits."""
