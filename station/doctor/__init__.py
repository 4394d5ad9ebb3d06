"""The doctor: looks at everything that the station needs, without the station, and says what is wrong and the cure."""
