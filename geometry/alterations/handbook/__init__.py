"""The handbook of alterations: every entry a small registered value, built from slashes, darts and redrawn lines."""
