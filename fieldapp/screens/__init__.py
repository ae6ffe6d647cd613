"""The screens: what a person sees and touches at each step of the walk.

Here belongs what is shown and what a touch does; not what it means (the walk and the trade know
that) and not how a widget looks (the kit knows that).
"""
