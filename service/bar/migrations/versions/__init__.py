"""One file for each schema there has been. A step that has left the house is never edited."""
