"""The catalogs of the languages: found in the code, kept up to date, compiled."""
