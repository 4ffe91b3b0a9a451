"""Flames resolved by a general flow solver, as data, and what the library's laws say of the same cases."""
