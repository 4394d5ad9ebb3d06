"""The whole station at a glance: each part's state in a word and a sentence, for the page Station and for helpers."""
