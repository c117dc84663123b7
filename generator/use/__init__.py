"""The tool at work: which end takes which tap, with what force, how squarely, how it is set."""
