"""Faults of drawings and cutting profiles, found in the files alone; nothing here knows a tool."""
