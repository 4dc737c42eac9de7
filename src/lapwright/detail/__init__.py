"""Which pieces, what laps over what, flat pan or cricket."""
