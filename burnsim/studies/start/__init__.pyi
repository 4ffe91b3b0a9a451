from burnsim.studies.start.grid import StartMap as StartMap
from burnsim.studies.start.grid import start_map as start_map
from burnsim.studies.start.primer import Primer as Primer
from burnsim.studies.start.primer import primer_needed as primer_needed
