"""Mouse tools as small state machines, without Qt."""
