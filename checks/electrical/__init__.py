"""The physics and arithmetic of a charging circuit: SI numbers in, SI numbers out.

Knows no code book, no record and no verdict. Formulas use arithmetic operators only, so that a
plain number and a measured value with its uncertainty both pass through them.
"""
