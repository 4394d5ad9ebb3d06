"""Metrology as pure functions: tolerance windows and what a scale can hold."""
