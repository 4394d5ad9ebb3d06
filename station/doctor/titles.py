"""The titles of what is tried by hand. Pure: they also tell how wide a column of titles must be."""

from station.texts import N_

BUZZER, SPEECH, LAMP, PEDAL, BUTTON = N_("Buzzer"), N_("Speech"), N_("Lamps"), N_("Pedal"), N_("Button")
TRIED = N_("By hand")
TITLES = (BUZZER, SPEECH, LAMP, PEDAL, BUTTON, TRIED)
