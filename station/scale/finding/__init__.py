"""Finding a scale: which port, which bit rate and character format, which family of frames, and how sure that is."""
