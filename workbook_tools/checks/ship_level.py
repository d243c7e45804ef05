"""Appliances of the whole ship: lifebuoys, lifejackets, suits, flares, radios (SH codes)."""
