"""Sewing-pattern geometry: pure functions on frozen values, millimetres, y up. No Qt, no files, no paper."""
