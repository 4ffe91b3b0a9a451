from burnsim.studies.sweep.files import load_sweep as load
from burnsim.studies.sweep.files import save_sweep as save
from burnsim.studies.sweep.ranking import Ranked as Ranked
from burnsim.studies.sweep.ranking import best_designs as best
from burnsim.studies.sweep.ranking import has_verdict as has_verdict
from burnsim.studies.sweep.ranking import ok as ok
from burnsim.studies.sweep.ranking import setup_at as setup_at
from burnsim.studies.sweep.run import sweep as sweep
from burnsim.studies.sweep.selecting import select as select

__all__ = [
    "Ranked",
    "best",
    "has_verdict",
    "load",
    "ok",
    "save",
    "select",
    "setup_at",
    "sweep",
]
