"""Sweeps to files and back."""

import os
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from burnsim.errors import InputError
from burnsim.studies.sweep.columns import Block
from burnsim.studies.sweep.csv_table import read_csv, write_csv
from burnsim.studies.sweep.frame import blocks_of, tidied
from burnsim.studies.sweep.netcdf import read_netcdf, text_widths, write_netcdf

if TYPE_CHECKING:
    import xarray

SUFFIXES = (".nc", ".csv")


def save_sweep(dataset: "xarray.Dataset", path: str | os.PathLike[str]) -> None:
    """Save a sweep as netCDF (.nc) or as comma-separated values (.csv); `load_sweep` reads it back identical.

    Parameters
    ----------
    dataset : of `sweep`; columns over all its dimensions may have been added
    path : file to write; one that exists is replaced when all is written

    Raises
    ------
    InputError
        If the suffix is another one, or the dataset is no longer one that a sweep could have.
    """
    tidy = tidied(dataset)
    write(tidy, lambda: blocks_of(tidy), check_path(path))


def load_sweep(path: str | os.PathLike[str]) -> "xarray.Dataset":
    """Read a sweep that was saved as netCDF or as comma-separated values.

    Parameters
    ----------
    path : file to read; from netCDF, rows are read when they are asked for

    Returns
    -------
    xarray.Dataset
        As `sweep` made it.

    Raises
    ------
    InputError
        If there is no such file, or it is no sweep.
    """
    target = check_path(path)
    if not target.exists():
        raise InputError("file", str(target), "does not exist", "check the path")
    return read_csv(target) if target.suffix == ".csv" else read_netcdf(target)


def check_path(path: str | os.PathLike[str]) -> Path:
    """Refuse a file whose suffix says neither netCDF nor comma-separated values, or that has no folder."""
    target = Path(path)
    if target.suffix not in SUFFIXES:
        raise InputError("out", str(target), "is neither .nc (netCDF) nor .csv", "choose one of the two")
    if target.exists() and not target.is_file():
        problem = "is a folder" if target.is_dir() else "is no plain file"
        raise InputError("out", str(target), problem, "give the name of a file")
    if not target.absolute().parent.is_dir():
        raise InputError("out", str(target), "has no folder to lie in", f"make {target.parent} first")
    return target


def write(frame: "xarray.Dataset", blocks: Callable[[], Iterable[Block]], path: Path) -> None:
    """Write a frame and its rows, which `blocks` gives as often as it is asked; the file comes into place whole."""
    rough = path.with_name(f"{path.name}.{os.getpid()}.rough")
    try:
        if path.suffix == ".csv":
            write_csv(frame, blocks(), rough)
        else:
            write_netcdf(frame, blocks(), text_widths(frame, blocks()), rough)
        rough.replace(path)
    finally:
        rough.unlink(missing_ok=True)
