"""The walk: what is asked next, undo, draft, progress. A map without a toolkit."""
