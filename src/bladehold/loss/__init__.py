"""What comes after a failure: the shaken arm, the thrown blade. Pure functions on SI numbers and arrays."""
