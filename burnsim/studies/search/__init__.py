"""The design worth building within limits."""
