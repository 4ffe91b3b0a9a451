from burnsim.studies.start.grid import StartMap as StartMap
from burnsim.studies.start.grid import map_starts as map_starts
from burnsim.studies.start.primer import Primer as Primer
from burnsim.studies.start.primer import find_primer as find_primer
