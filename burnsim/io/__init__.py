"""Files and text: read whole, written whole or not at all."""
