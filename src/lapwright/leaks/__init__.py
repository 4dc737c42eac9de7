"""Layered assembly, leak graph, weakest path: found from the placed, folded pieces, none typed per detail."""
