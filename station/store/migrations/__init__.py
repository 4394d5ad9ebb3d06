"""Migrations of the record, one file for each released version of its tables."""
