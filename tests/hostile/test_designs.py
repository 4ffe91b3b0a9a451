"""Hostile design files: a corpus, random bytes, and random changes of good designs."""

import subprocess
import sys
import time
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from burnsim.errors import InputError
from burnsim.model.description.setup import Setup

ROOT = Path(__file__).parents[2]
DESIGN = (ROOT / "examples" / "weekend_double_wall.toml").read_text(encoding="utf-8")
LINES = DESIGN.splitlines()
SLOWEST = 10.0  # a design is read, or refused, within this on a busy machine [s]

BOMBS: dict[str, bytes] = {
    "nothing": b"",
    "zeros": bytes(5000),
    "half of a code point": b'name = "\xe2\x82"',
    "another encoding": 'name = "Rechaud à alcool"'.encode("utf-16"),
    "arrays in arrays": b"a = " + b"[" * 100_000,
    "closed arrays in arrays": b"a = " + b"[" * 50_000 + b"]" * 50_000,
    "tables in tables": b"a = " + b"{ a = " * 20_000,
    "keys in keys": b".".join([b"a"] * 100_000) + b" = 1",
    "a huge whole number": b"a = " + b"9" * 900_000,
    "a huge number of jets": DESIGN.replace("count = 26", "count = " + "9" * 4000).encode(),
    "a huge power": DESIGN.replace('"37 ml"', '"1e999999999 ml"').encode(),
    "a huge power as a number": DESIGN.replace('"37 ml"', "1e999999999").encode(),
    "a tiny power": DESIGN.replace('"37 ml"', '"1e-999999999 ml"').encode(),
    "a huge fraction": DESIGN.replace('"37 ml"', '"' + "9" * 50_000 + "/" + "7" * 50_000 + ' ml"').encode(),
    "a long unit": DESIGN.replace('"37 ml"', '"37 ' + "m" * 100_000 + '"').encode(),
    "many spaces": DESIGN.replace('"37 ml"', '"37' + " " * 200_000 + '!"').encode(),
    "many signs": DESIGN.replace('"37 ml"', '"' + "-" * 100_000 + '37 ml"').encode(),
    "many digits and dots": DESIGN.replace('"37 ml"', '"' + "1." * 50_000 + ' ml"').encode(),
    "a long fuel": DESIGN.replace('"methanol"', '"' + "ethanol 1 %, " * 20_000 + '"').encode(),
    "a long name of a fuel": DESIGN.replace('"methanol"', '"' + "m" * 300_000 + '"').encode(),
    "a long key": DESIGN.replace("count = 26", "c" * 300_000 + " = 26").encode(),
    "an expression": DESIGN.replace('"37 ml"', "\"__import__('os').mkdir('owned')\"").encode(),
    "an expression as a fuel": DESIGN.replace('"methanol"', "\"{__import__('os').mkdir('owned')}\"").encode(),
    "a template": DESIGN.replace('"weekend double wall"', '"{0.__class__}%s%n$(mkdir owned)`mkdir owned`"').encode(),
    "private names": DESIGN.replace("count = 26", "__class__ = 26").encode(),
    "control characters": DESIGN.replace('"methanol"', '"meth\\u0000anol\\u001b[2J"').encode(),
    "a date": DESIGN.replace('"37 ml"', "1979-05-27T07:32:00Z").encode(),
    "a table for a number": DESIGN.replace('"37 ml"', '{ value = "37 ml" }').encode(),
    "a number for a table": b"burner = 3\ncharge = 4\n",
    "a list for a table": b"[[burner]]\n[[burner]]\n[[charge]]\n",
    "the same key twice": DESIGN.replace("count = 26", "count = 26\ncount = 27").encode(),
    "not a number": DESIGN.replace('"0.6 l"', "nan").encode(),
    "minus nothing": DESIGN.replace('"37 ml"', '"-0 ml"').encode(),
}


@pytest.mark.parametrize("name", BOMBS)
def test_bombs(name: str, ask: Any, folder: Path) -> None:
    path = folder / "bomb.toml"
    path.write_bytes(BOMBS[name])
    began = time.perf_counter()
    answer = ask("check", str(path))
    assert time.perf_counter() - began < SLOWEST
    assert answer.code == (0 if name == "a template" else 2), answer.out
    assert "\x1b" not in answer.err
    assert not (folder / "owned").exists()


@pytest.mark.skipif(sys.platform == "win32", reason="no limits of memory there")
def test_bombs_fit_into_little_memory(folder: Path) -> None:
    """Every bomb in one process that may take 200 MB beyond what Python and NumPy take."""
    for k, data in enumerate(BOMBS.values()):
        (folder / f"bomb{k}.toml").write_bytes(data)
    code = f"""
import resource, sys
from burnsim import cli
cli.main(["check", {str(ROOT / "examples" / "weekend_double_wall.toml")!r}])
used = int(open("/proc/self/statm").read().split()[0]) * resource.getpagesize()
resource.setrlimit(resource.RLIMIT_AS, (used + 200_000_000,) * 2)
codes = [cli.main(["check", f"{folder}/bomb{{k}}.toml"]) for k in range({len(BOMBS)})]
sys.exit(0 if set(codes) <= {{0, 2}} else 3)
"""
    run = subprocess.run(
        [sys.executable, "-c", code], check=False, cwd=ROOT, capture_output=True, text=True, timeout=120
    )
    assert run.returncode == 0, run.stderr[-2000:]
    assert "MemoryError" not in run.stderr


@pytest.mark.skipif(not Path("/dev/zero").exists(), reason="no devices here")
@pytest.mark.parametrize(
    "path", ["/dev/zero", "/dev/null", "/proc/self/mem", "/", "no/such/file", "nul\0l", "a" * 5000]
)
def test_paths_that_are_no_designs(path: str, ask: Any, folder: Path) -> None:
    assert ask("check", path).code == 2


@settings(max_examples=150, suppress_health_check=list(HealthCheck), derandomize=True)
@given(data=st.binary(max_size=400))
def test_random_bytes(data: bytes, ask: Any, folder: Path) -> None:
    path = folder / "random.toml"
    path.write_bytes(data)
    assert ask("check", str(path)).code == 2


PIECES = st.sampled_from(
    [
        '"',
        "'",
        "[",
        "]",
        "{",
        "}",
        "=",
        ".",
        ",",
        "#",
        "\n",
        " ",
        "-",
        "+",
        "0",
        "1e308",
        "nan",
        "inf",
        "true",
        '"""',
        "\\u0000",
        "\\",
        "mm",
        "ml",
        "degC",
        "%",
        "/",
        "1/0",
        "½",
        "²",
        "٣",
        "−",
        "\u202e",
        "\ufeff",
        "\U0001f525",
        "burner",
        "jets",
        "__init__",
    ]
)


ANYTHING = st.text(max_size=5)


@settings(max_examples=250, suppress_health_check=list(HealthCheck), derandomize=True)
@given(data=st.data())
def test_damaged_designs(data: st.DataObject, ask: Any, folder: Path) -> None:
    """Pieces put in, cut out, lines doubled, swapped and torn apart."""
    text = DESIGN
    for _ in range(data.draw(st.integers(1, 3))):
        place = data.draw(st.integers(0, max(len(text) - 1, 0)))
        how = data.draw(st.integers(0, 3))
        if how == 0:
            text = text[:place] + data.draw(PIECES) + text[place:]
        elif how == 1:
            text = text[:place] + text[place + data.draw(st.integers(1, 40)) :]
        elif how == 2:
            text = text[:place] + data.draw(ANYTHING) + text[place + 1 :]
        else:
            lines = text.splitlines() or [""]
            lines.insert(data.draw(st.integers(0, len(lines))), data.draw(st.sampled_from(LINES)))
            text = "\n".join(lines)
    path = folder / "damaged.toml"
    path.write_text(text, encoding="utf-8", errors="surrogatepass", newline="")
    ask("check", str(path))


NUMBERS = st.one_of(
    st.integers(-(10**30), 10**30),
    st.floats(),
    st.sampled_from([0, 1, -1, 1e-300, 1e300, float("nan"), float("inf"), True]),
)
QUANTITIES = st.builds(
    "{}{}{}".format,
    st.one_of(NUMBERS, st.text(max_size=4)),
    st.sampled_from(["", " "]),
    st.sampled_from(
        ["mm", "in", "ml", "l", "degC", "degF", "K", "%", "m/s", "drill", "oz", "fl oz", "deg", "Pa", "", "x"]
    ),
)
VALUES: st.SearchStrategy[Any] = st.recursive(
    st.one_of(NUMBERS, QUANTITIES, st.text(max_size=12), st.booleans(), st.none()),
    lambda inner: st.one_of(st.lists(inner, max_size=3), st.dictionaries(st.text(max_size=8), inner, max_size=3)),
    max_leaves=6,
)
PATHS = [
    *(
        f"burner.{n}"
        for n in (
            "kind",
            "outer_diameter",
            "height",
            "wall_thickness",
            "metal",
            "gallery_gap",
            "rim_width",
            "emissivity",
        )
    ),
    *(f"burner.jets.{n}" for n in ("count", "diameter", "height", "direction", "ring_diameter", "rows")),
    *(f"burner.feed_slots.{n}" for n in ("count", "width", "height")),
    *(f"burner.relief.{n}" for n in ("count", "width", "depth")),
    *(f"burner.wick.{n}" for n in ("height", "thickness", "porosity", "pore_radius")),
    *(f"charge.{n}" for n in ("fuel", "fuel.ethanol", "volume", "primer", "temperature")),
    *(f"pot.{n}" for n in ("diameter", "height", "water", "water_temperature", "wall_thickness", "rest", "gap", "lid")),
    *(f"site.{n}" for n in ("air_temperature", "altitude", "humidity", "wind", "tilt")),
    "factors.entrainment",
    "name",
    "pressure_limit",
    "burner",
    "burner.jets",
    "pot",
    "site",
    "charge",
    "factors",
]


def table() -> dict[str, Any]:
    import tomllib

    return tomllib.loads(DESIGN)


@settings(max_examples=600, suppress_health_check=list(HealthCheck), derandomize=True)
@given(changes=st.dictionaries(st.sampled_from(PATHS), VALUES, min_size=1, max_size=3))
@example({"charge.fuel": {"ethanol": float("nan")}})
@example({"burner.jets.count": 10**30})
def test_damaged_tables(changes: dict[str, Any]) -> None:
    """Anything in the place of any field: a setup, or an error that names what is wrong."""
    made = table()
    for path, value in changes.items():
        *way, last = path.split(".")
        inner = made
        for key in way:
            if not isinstance(inner.get(key), dict):
                inner[key] = {}
            inner = inner[key]
        inner[last] = value
    refusal = None
    try:
        Setup.from_dict(made)
    except InputError as error:
        refusal = error
    if refusal is not None:
        assert refusal.field
        assert refusal.remedy.strip()
        assert "\n" not in str(refusal)
        assert len(str(refusal)) < 5000
