"""Voices: a load as the bytes that a scale of one frame family would send, for the simulated scale.

Written from the same layouts as the station's grammars but without sharing a line with them, so that the one
checks the other. The names of the families are those of the settings.
"""

from station.simulated.voices.table import TYPICAL, Delivery
from station.simulated.voices.voice import Voice

__all__ = ["TYPICAL", "Delivery", "Voice"]
