"""Tabulated values of standards and handbooks."""
