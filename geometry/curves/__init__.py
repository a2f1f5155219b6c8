"""Curves as chains of points: length, split, blend, parallel, crossings."""
