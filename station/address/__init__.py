"""Under which addresses a phone reaches the page of this station, and the code that a phone's camera reads."""
