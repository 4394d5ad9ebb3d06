"""The versions, oldest first. A released one is never changed."""
