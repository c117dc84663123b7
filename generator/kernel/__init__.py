"""What the CAD kernel does: solids, their collisions, STEP. The only stage that loads it."""
