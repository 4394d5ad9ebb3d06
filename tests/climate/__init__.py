"""Tests of the climate at the bench."""
