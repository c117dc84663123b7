"""How the tool is made and measured: operations, set-ups, inspection, what to do next."""
