"""Inspections, tests, drills and training (RT codes)."""
