from burnsim.studies.search.file import read_search as read
from burnsim.studies.search.run import Search, search

__all__ = ["Search", "read", "search"]
