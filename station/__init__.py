"""Tarebell: a scale-and-clock bench station for casting parts from two-part systems."""

__version__ = "0.1.0"
