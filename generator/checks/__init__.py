"""Values of the tool held against limits."""
