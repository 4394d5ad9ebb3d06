"""Papers: batch records and labels as PDF, read by other hands."""
