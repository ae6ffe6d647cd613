"""Every screen in its main states, for tests to begin at and for eyes to judge."""
