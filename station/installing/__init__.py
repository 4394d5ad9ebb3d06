"""Installing: from a folder with the station's source to a station that runs, is repaired, changed and taken away.

It runs before anything is installed: on the plain Python of the system, with nothing but the standard library.
"""
