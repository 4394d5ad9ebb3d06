"""The computer that the station runs on: how warm it is, and whether its supply holds."""
