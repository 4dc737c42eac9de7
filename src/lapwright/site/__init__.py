"""What the tape said."""
