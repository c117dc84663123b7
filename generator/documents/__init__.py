"""Drawings, tables and reports, still independent of any file format."""
