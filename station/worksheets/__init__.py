"""Worksheets: every calculation of the job once, for the page, the command line and programs alike."""
