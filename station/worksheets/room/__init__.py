"""Worksheets of room: volumes, water, patterns, sizes, and the mold box."""
