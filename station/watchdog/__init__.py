"""Whether the station makes progress: pulses, threads that must live, and what the service manager is told."""
