"""How much water comes, how deep it stands and how fast it runs. Knows no flashing.

Symbols in formulas are the source's. Units inside are SI where gravity comes in; faces are in inches.
"""
