"""Worksheets of mixing: ratio, batch, loss, foam, equivalents."""
