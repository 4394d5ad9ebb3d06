"""A simulated scale on a real pseudo-terminal, and a simulated person in front of it.

They ship for `tarebell demo` and for the tests; the service never imports them.
"""
