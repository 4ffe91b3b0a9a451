from burnsim.studies.sweep.files import load_sweep as load
from burnsim.studies.sweep.files import save_sweep as save
from burnsim.studies.sweep.ranking import Ranked as Ranked
from burnsim.studies.sweep.ranking import get_setup as get_setup
from burnsim.studies.sweep.ranking import has_verdict as has_verdict
from burnsim.studies.sweep.ranking import ok as ok
from burnsim.studies.sweep.ranking import rank_designs as rank
from burnsim.studies.sweep.ranking import select as select
from burnsim.studies.sweep.run import sweep as sweep

__all__ = ["Ranked", "get_setup", "has_verdict", "load", "ok", "rank", "save", "select", "sweep"]
