"""Every state of the screens, each in the module of what it is of.

Here belongs what lays a folder ready; not what a finger does, and not the walk itself.
"""

from tests.gallery.states import call, check, photos, visit, words  # each takes its states in
from tests.gallery.states.staging import STATES, set_look, stage

__all__ = ["STATES", "call", "check", "photos", "set_look", "stage", "visit", "words"]
