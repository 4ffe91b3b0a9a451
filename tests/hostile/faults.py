"""Faults from outside, each tried on a real sweep of the command: what must hold after each is said by its function.

A function takes a fresh folder, raises AssertionError where something does not hold, and returns how many faults it has
tried. `tests/hostile/test_faults.py` runs them all, and so does `benchmarks/attack.py`.
"""

import contextlib
import io
import os
import resource
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

import numpy as np
from burners import ENVIRONMENT

import burnsim
from burnsim import cli
from burnsim.errors import InputError
from burnsim.io.cache import content_key, keep, read_kept
from burnsim.studies.bench.log import read_bench_log
from burnsim.studies.calibrate.factors_file import load_factors, save_factors
from burnsim.studies.calibrate.posterior import posterior_of
from burnsim.studies.sweep.store import PARTS, FolderStore

ROOT = Path(__file__).parents[2]
DESIGN = """
burner = { kind = "open cup", outer_diameter = "60 mm", height = "30 mm" }
charge = { fuel = "methanol", volume = "9 ml" }
"""
DESIGNS = 160
LOG = """
pot.water = "0.5 l"
charge.fuel = "methanol"
---
time [min], water [degC], note
0, 15.2
4, 48, bloom
8, 95, boils
"""


def words_of(out: str) -> list[str]:
    """The command of all faults."""
    return ["sweep", "cup.toml", "--vary", f"charge.volume=2 ml:9 ml:{DESIGNS}", "--workers", "1", "--out", out]


def command(folder: Path, out: str = "a.csv", **options: Any) -> "subprocess.Popen[str]":
    """Start the sweep of all faults."""
    (folder / "cup.toml").write_text(DESIGN, encoding="utf-8")
    return subprocess.Popen(
        [sys.executable, "-m", "burnsim", *words_of(out)], cwd=folder, env=ENVIRONMENT, text=True,
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, **options,
    )  # fmt: skip


def whole(folder: Path, out: str = "a.csv") -> bytes:
    """What the sweep gives, undisturbed or taken up again; nothing but it and the design is left."""
    (folder / "cup.toml").write_text(DESIGN, encoding="utf-8")
    said = io.StringIO()
    with contextlib.chdir(folder), contextlib.redirect_stdout(said), contextlib.redirect_stderr(said):
        assert cli.main(words_of(out)) == 0, said.getvalue()
    assert sorted(path.name for path in folder.iterdir()) == sorted([out, "cup.toml"])
    return (folder / out).read_bytes()


@cache
def reference() -> bytes:
    """The undisturbed sweep."""
    with tempfile.TemporaryDirectory() as folder:
        return whole(Path(folder))


def parts_of(folder: Path) -> list[Path]:
    return sorted((folder / "a.csv.parts").glob(PARTS))


def stopped(folder: Path, parts: int, signum: int = signal.SIGKILL) -> None:
    """Stop the sweep once it has kept so many parts."""
    process = command(folder)
    patience = time.monotonic() + 120.0
    while len(parts_of(folder)) < parts and process.poll() is None:
        assert time.monotonic() < patience
        time.sleep(0.001)
    process.send_signal(signum)
    process.communicate(timeout=120)


def killed(folder: Path) -> int:
    """A sweep that is killed, however often, goes on to the same bytes."""
    wanted = reference()
    stopped(folder, 1)
    stopped(folder, 2, signal.SIGTERM)
    assert whole(folder) == wanted
    return 2


def full_disk(folder: Path) -> int:
    """Where no file may grow past a size, the sweep says so in one line, leaves no torn file, and goes on later."""
    wanted = reference()
    limits = (0, 3000, len(wanted) - 1)
    for limit in limits:
        _told(command(folder, preexec_fn=lambda size=limit: resource.setrlimit(resource.RLIMIT_FSIZE, (size, size))))
        assert not (folder / "a.csv").exists()
        assert not [path.name for path in folder.rglob("*rough*")]
    assert whole(folder) == wanted
    return len(limits)


def small_disk(folder: Path) -> int:
    """The same on a file system that is full in truth; only where this user may mount one."""
    wanted = reference()
    tried = 0
    for size in ("16k", "60k"):
        with mounted(folder / "small", f"size={size}") as small:
            if small is None:
                return 0
            _told(command(small))
            tried += 1
            subprocess.run(["mount", "-o", "remount,size=8m", str(small)], check=True)
            assert whole(small) == wanted
    return tried


def read_only(folder: Path) -> int:
    """A folder that cannot be written to is told before the first burn, and nothing is left in it."""
    with mounted(folder / "shut", "size=1m") as shut:
        place = shut or folder / "shut"
        place.mkdir(exist_ok=True)
        (place / "cup.toml").write_text(DESIGN, encoding="utf-8")
        if shut is not None:
            subprocess.run(["mount", "-o", "remount,ro", str(shut)], check=True)
        elif os.geteuid() == 0:
            return 0  # nothing is forbidden to this user
        else:
            place.chmod(0o500)
        words = ["sweep", "shut/cup.toml", "--vary", "charge.volume=2 ml:9 ml:4", "--out", "shut/a.csv"]
        run = subprocess.run(
            [sys.executable, "-m", "burnsim", *words], cwd=folder, env=ENVIRONMENT,
            text=True, capture_output=True, check=False,
        )  # fmt: skip
        assert run.returncode == 2, run.stderr
        assert "cannot be written" in run.stderr
        assert [path.name for path in place.iterdir()] == ["cup.toml"]
        if shut is None:
            place.chmod(0o700)
    return 1


def two_writers(folder: Path) -> int:
    """The second of two sweeps with one result is refused in words; the first is none the worse."""
    wanted = reference()
    first = command(folder)
    patience = time.monotonic() + 120.0
    while not parts_of(folder) and first.poll() is None:
        assert time.monotonic() < patience
        time.sleep(0.001)
    first.send_signal(signal.SIGSTOP)  # so that it is at work for as long as the second takes
    second = command(folder)
    _, said = second.communicate(timeout=120)
    first.send_signal(signal.SIGCONT)
    first.communicate(timeout=300)
    assert second.returncode == 2
    assert "being written by another sweep" in said
    assert first.returncode == 0
    assert (folder / "a.csv").read_bytes() == wanted
    return 1


def damaged_parts(folder: Path) -> int:
    """A part that is not as it was written is done again, or holds what it held; never anything else."""
    stopped(folder, 2)
    source = folder / "a.csv.parts"
    note = (source / "plan.json").read_text(encoding="utf-8").split('"')[3]
    (victim, *_) = parts_of(folder)
    good = victim.read_bytes()
    (held,) = [block for block in _blocks(source, note) if len(block["status"]) == _rows(victim)][:1]
    for data in damages(good, 60):
        victim.write_bytes(data)
        for block in _blocks(source, note):
            if len(block["status"]) == _rows(victim) and victim.exists():
                for name, values in held.items():
                    np.testing.assert_array_equal(block[name], values)
    return 60


def damaged_cache(folder: Path) -> int:
    """Machine code that is not to the bit what was kept is as good as none."""
    key = content_key("march")
    folder.chmod(0o700)
    path = folder / "march.o"
    assert keep(path, key, Random(1).randbytes(5000))
    good = path.read_bytes()
    for data in damages(good, 300):
        path.write_bytes(data)
        assert read_kept(path, key) is None
    path.write_bytes(good)
    assert read_kept(path, key) is not None
    return 300


FAULTS: dict[str, Callable[[Path], int]] = {
    "killed": killed,
    "full disk": full_disk,
    "small disk": small_disk,
    "read only": read_only,
    "two writers": two_writers,
    "damaged parts": damaged_parts,
    "damaged cache": damaged_cache,
}


def damages(good: bytes, count: int) -> Iterator[bytes]:
    """So many ways in which a file is no longer what it was: bits turned, ends cut off, stretches lost or doubled."""
    draw = Random(count)
    for k in range(count):
        place, length = draw.randrange(len(good)), draw.randrange(1, 200)
        if k % 4 == 0:
            yield good[:place] + bytes([good[place] ^ (1 << draw.randrange(8))]) + good[place + 1 :]
        elif k % 4 == 1:
            yield good[:place]
        elif k % 4 == 2:
            yield good[:place] + good[place + length :]
        else:
            yield good[:place] + draw.randbytes(length) + good[place:]


def damaged_inputs(folder: Path, count: int) -> int:
    """Damaged designs, logs, factors and sweeps are read, or refused as bad input; how many were tried."""
    save_factors(posterior_of(["entrainment", "discharge"], [0.1, -0.02], np.diag([0.04, 0.01])), folder / "f.toml")
    (folder / "cup.toml").write_text(DESIGN, encoding="utf-8")
    base = burnsim.load(folder / "cup.toml")
    for suffix in ("csv", "nc"):
        burnsim.sweep(base, {"charge.volume": ["2 ml", "9 ml"]}, out=folder / f"s.{suffix}", workers=1)
    kinds: tuple[tuple[str, bytes, Callable[[Path], Any]], ...] = (
        ("d.toml", (ROOT / "examples" / "weekend_double_wall.toml").read_bytes(), burnsim.load),
        ("l.csv", LOG.encode(), read_bench_log),
        ("f.toml", (folder / "f.toml").read_bytes(), load_factors),
        ("s.csv", (folder / "s.csv").read_bytes(), burnsim.sweeps.load),
        ("s.nc", (folder / "s.nc").read_bytes(), burnsim.sweeps.load),
    )
    for name, good, read in kinds:
        for data in damages(good, count // len(kinds)):
            (folder / name).write_bytes(data)
            with contextlib.suppress(InputError):
                read(folder / name)
    return count // len(kinds) * len(kinds)


@contextlib.contextmanager
def mounted(folder: Path, options: str) -> Iterator[Path | None]:
    """A small file system of its own; None where this user may not mount one."""
    folder.mkdir(exist_ok=True)
    done = (
        os.geteuid() == 0
        and not subprocess.run(
            ["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)], check=False, capture_output=True
        ).returncode
    )
    try:
        yield folder if done else None
    finally:
        if done:
            subprocess.run(["umount", str(folder)], check=True)


def _told(process: "subprocess.Popen[str]") -> None:
    """A command that is refused room says so on its last line, and nothing else happens."""
    _, said = process.communicate(timeout=300)
    assert process.returncode == 2, said
    assert "Traceback" not in said
    assert "cannot be written" in said.splitlines()[-1], said


def _rows(part: Path) -> int:
    first, last = (int(number) for number in part.stem.split("-"))
    return last - first


def _blocks(source: Path, note: str) -> list[Any]:
    parts = FolderStore(source)
    parts.open(note, resume=True)
    try:
        return list(parts.blocks())
    finally:
        parts.release()
