"""Measuring meshes: published shapes, kinds of files, and files that mean harm."""
