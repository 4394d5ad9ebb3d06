"""What can be saved of a damaged record, and putting a good one in its place without losing the damaged one."""
