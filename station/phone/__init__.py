"""Pages and the live stream for any phone or tablet on the workshop's network."""
