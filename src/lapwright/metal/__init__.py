"""Faces joined by bends: bodies, blanks, fold and unfold; one file per piece."""
