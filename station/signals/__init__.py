"""Cues and alarms to the world: buzzer, lamps, pedal, speech."""
