"""How buzzer, lamps, pedal and sensor are wired to the board: from the settings to a table and a drawing. Pure."""
