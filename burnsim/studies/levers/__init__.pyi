from burnsim.studies.levers.levers import Levers as Levers
from burnsim.studies.levers.levers import levers as levers
