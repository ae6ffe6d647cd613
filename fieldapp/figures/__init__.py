"""Figures as plain geometry with color tokens: drawn by a widget on screen and on the page.

Here belongs what a figure looks like; not how a toolkit draws it, and not what it means.
"""
