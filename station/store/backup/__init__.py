"""Backups: one zip file each, made while the station works, read back and checked before it counts."""
