"""Ways to calculate the load of a dwelling, one module a way: the arithmetic, fed by a profile.

A code fills in the numbers and the clauses; nothing here knows which code it is.
"""
