"""From the tape measure to the pattern: measurements, size charts, size choice, blending, ease, advice."""
