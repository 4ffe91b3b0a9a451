from burnsim.studies.sweep.files import load_sweep as load
from burnsim.studies.sweep.files import save_sweep as save
from burnsim.studies.sweep.ranking import Ranked as Ranked
from burnsim.studies.sweep.ranking import best_designs as best
from burnsim.studies.sweep.ranking import setup_at as setup_at
from burnsim.studies.sweep.run import has_verdict as has_verdict
from burnsim.studies.sweep.run import sweep as sweep

__all__ = [
    "Ranked",
    "best",
    "has_verdict",
    "load",
    "save",
    "setup_at",
    "sweep",
]
