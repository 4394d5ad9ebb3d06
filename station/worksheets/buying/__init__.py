"""Worksheets of buying: containers, kits, cost, schedule, project."""
