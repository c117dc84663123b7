"""Tests of what helps to choose."""
