from burnsim.studies.levers.levers import Levers as Levers
from burnsim.studies.levers.levers import find_levers as find_levers
