"""Marc & Measure: flavour pairing and balance for coffee-filtered stirred drinks."""
