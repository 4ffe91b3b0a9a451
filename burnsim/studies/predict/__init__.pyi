from burnsim.studies.predict.prediction import Prediction as Prediction
from burnsim.studies.predict.prediction import predict as predict
from burnsim.studies.predict.sobol import Sensitivity as Sensitivity
from burnsim.studies.predict.sobol import analyse_sensitivity as analyse_sensitivity
