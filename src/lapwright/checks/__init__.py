"""Hold the planned roof against the rules, one subject a file; check.py asks them all."""
