from burnsim.model.description.factors import CORRELATIONS
from burnsim.studies.calibrate.factors_file import load_factors as load
from burnsim.studies.calibrate.factors_file import save_factors as save
from burnsim.studies.calibrate.fit import Calibration, calibrate
from burnsim.studies.calibrate.next_burn import NextBurns, propose_burns
from burnsim.studies.calibrate.posterior import Posterior, make_prior, set_factors
from burnsim.studies.calibrate.walkers import sample_factors as sample

__all__ = [
    "CORRELATIONS",
    "Calibration",
    "NextBurns",
    "Posterior",
    "calibrate",
    "load",
    "make_prior",
    "propose_burns",
    "sample",
    "save",
    "set_factors",
]
