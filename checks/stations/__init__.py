"""The stations: what is checked at each place. One module a station, each ends in CHECKS."""
