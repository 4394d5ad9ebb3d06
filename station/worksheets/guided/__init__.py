"""The worked plans of Wrenfield Works, an invented workshop, one by one."""
