"""Checks before cutting: each returns findings."""
