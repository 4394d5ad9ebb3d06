"""Climate: temperature and humidity at the bench, from the kernel's files or as a person types them."""
