"""Whole drinks: the best over every bottle and amount, proved."""
