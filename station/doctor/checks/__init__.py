"""The checks, a file for each group: a patient in, findings out. Each looks and changes nothing."""
