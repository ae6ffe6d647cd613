"""A surface under load: what is asked, what its readings say, and how they are judged."""
