"""Hides dask, which only the tests of a cluster need, from a process: xarray takes half a second to load it."""

import sys

sys.modules["dask"] = None  # type: ignore[assignment]
