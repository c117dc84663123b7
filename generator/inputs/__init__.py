"""The parameter file: what may be asked, and how it is read."""
