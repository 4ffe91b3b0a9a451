"""Units: one table, what reads quantities, and what writes them into texts."""

from burnsim.units.reading import parse as parse
from burnsim.units.table import DIMENSIONS as DIMENSIONS
from burnsim.units.table import measure as measure
from burnsim.units.writing import Quantity as Quantity
from burnsim.units.writing import Text as Text
from burnsim.units.writing import format_time as format_time
from burnsim.units.writing import plain as plain
from burnsim.units.writing import told as told
from burnsim.units.writing import written as written
