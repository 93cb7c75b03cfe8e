"""What is in a bottle and what it smells of: records and the catalogue read from the dataset."""
