from burnsim.studies.calibrate.factors_file import load_factors as load
from burnsim.studies.calibrate.factors_file import save_factors as save
from burnsim.studies.calibrate.fit import Calibration as Calibration
from burnsim.studies.calibrate.fit import calibrate as calibrate
from burnsim.studies.calibrate.next_burn import NextBurns as NextBurns
from burnsim.studies.calibrate.next_burn import propose_burns as propose_burns
from burnsim.studies.calibrate.posterior import Posterior as Posterior
from burnsim.studies.calibrate.posterior import make_prior as make_prior
from burnsim.studies.calibrate.posterior import set_factors as set_factors
from burnsim.studies.calibrate.walkers import sample_factors as sample

__all__ = [
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
