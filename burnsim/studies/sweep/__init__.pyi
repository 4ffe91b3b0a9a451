from burnsim.studies.sweep.files import load_sweep as load
from burnsim.studies.sweep.files import save_sweep as save
from burnsim.studies.sweep.ranking import Ranked, get_setup, has_verdict, ok, select
from burnsim.studies.sweep.ranking import rank_designs as rank
from burnsim.studies.sweep.run import sweep

__all__ = ["Ranked", "get_setup", "has_verdict", "load", "ok", "rank", "save", "select", "sweep"]
