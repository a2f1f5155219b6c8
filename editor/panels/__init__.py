"""Panels beside the table."""
