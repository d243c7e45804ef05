"""Fire appliances: extinguishers, spare charges, outfits, hoses (FF codes)."""
