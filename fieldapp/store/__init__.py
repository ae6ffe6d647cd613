"""What is kept on the device: visits, photos, reports, drafts and settings, in plain files.

Belongs here: everything that reads or writes a file that must not be lost, and every door for
files from outside. Does not belong here: what a record means. Only this package knows TinyDB.
"""
