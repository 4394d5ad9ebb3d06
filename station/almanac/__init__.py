"""The calendar: when casts may be taken out of their molds, as an iCalendar that a phone or computer subscribes to."""
