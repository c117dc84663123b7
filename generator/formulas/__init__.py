"""Calculations: numbers in, a number out."""
