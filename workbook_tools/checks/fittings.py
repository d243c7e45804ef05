"""Fittings of craft and ship, reported by exception (RT codes from 30 on)."""
