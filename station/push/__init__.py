"""Messages to phones and computers away from the bench, over http to addresses that a person has given."""
