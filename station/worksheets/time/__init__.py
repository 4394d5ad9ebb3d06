"""Worksheets of time: temperature, mass, temperature logs, dew point."""
