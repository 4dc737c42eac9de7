"""In which order a piece is folded, on the tools that the shop has. Lengths in inches, angles in degrees.

order      bend_order, orders_for: a piece and a kit of tools in, a plan out
tools      the tools and kits, rows that a user may overwrite
strip      a piece whose bends are all parallel, as a section
bench      may this bend of a strip be made now? the section against beam, bed and leaf
machine    the sections of one folder, and what they touch
crossing   a piece whose bend lines cross: which lines a tool still reaches
search     the exact search over what is done, how the piece lies and which tool does it
findings   what a person must know: blocked bends, shared lines, bends made by hand
"""
