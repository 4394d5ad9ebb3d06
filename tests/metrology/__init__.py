"""What a scale can promise, checked as laws, by simulation and in whole scale checks."""
