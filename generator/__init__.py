"""Parametric generator of spring-loaded centres: parameters in, checked papers and solids out."""
