"""The compiled march: the physics text written out, laid out in memory, compiled, and run for many burns."""
