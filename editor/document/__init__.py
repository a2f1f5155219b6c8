"""The project: base pattern, wearers, rounds; saved as one file."""
