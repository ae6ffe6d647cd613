"""The stations: what is checked at each place on the path. One module a station, each ends in CHECKS."""
