"""Ribs, strips and bays."""
