"""The forms in which a material or a lot is entered: their fields, and how what was typed becomes TOML and back."""
