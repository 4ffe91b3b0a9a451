"""The cache folder: what is damaged, or not this user's alone, is as good as none."""

import functools
import os
import shutil
import stat
import subprocess
import sys
import threading
from collections.abc import Callable
from pathlib import Path

import pytest

import burnsim
from burnsim.io import cache
from burnsim.io.cache import NoFolder, content_key, in_turn, keep, private_folder, read_kept
from burnsim.solve.compile import engine, machine

KEY = content_key("a march")
CODE = bytes(range(256)) * 40
ROOT = Path(__file__).parents[2]
posix = pytest.mark.skipif(os.name == "nt", reason="no owners and modes of this kind")
as_root = pytest.mark.skipif(getattr(os, "geteuid", lambda: 1)() != 0, reason="only root gives files away")


@pytest.fixture
def place(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """A file in a private folder of a cache folder of its own."""
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "cache"))
    path = private_folder("code") / "march.o"
    assert keep(path, KEY, CODE)
    return path


def test_what_is_kept_is_found(place: Path) -> None:
    assert read_kept(place, KEY) == CODE
    assert read_kept(place, content_key("another")) is None
    assert [file.name for file in place.parent.iterdir()] == ["march.o"]


@posix
def test_folder_and_file_are_private_whatever_the_mask(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "new" / "cache"))
    before = os.umask(0)
    try:
        folder = private_folder("code")
        assert keep(folder / "march.o", KEY, CODE)
    finally:
        os.umask(before)
    assert [stat.S_IMODE(path.stat().st_mode) for path in (folder.parent, folder, folder / "march.o")] == [
        0o700,
        0o700,
        0o600,
    ]


def cut(path: Path) -> None:
    path.write_bytes(path.read_bytes()[:-100])


def emptied(path: Path) -> None:
    path.write_bytes(b"")


def grown(path: Path) -> None:
    path.write_bytes(path.read_bytes() + b"\0")


def flipped(path: Path) -> None:
    whole = bytearray(path.read_bytes())
    whole[-1] ^= 1
    path.write_bytes(bytes(whole))


def headless(path: Path) -> None:
    path.write_bytes(path.read_bytes().partition(b"\n")[2])


def a_folder(path: Path) -> None:
    path.unlink()
    path.mkdir()


def a_loop(path: Path) -> None:
    path.unlink()
    path.symlink_to(path)


def a_pipe(path: Path) -> None:
    path.unlink()
    os.mkfifo(path)


def writable_by_the_group(path: Path) -> None:
    path.chmod(0o660)


def writable_by_all(path: Path) -> None:
    path.chmod(0o666)


def a_link_to_what_all_may_write(path: Path) -> None:
    other = path.with_name("other")
    path.rename(other)
    other.chmod(0o666)
    path.symlink_to(other)


def somebody_elses(path: Path) -> None:
    os.chown(path, 12345, -1)


FAULTS = [
    cut,
    emptied,
    grown,
    flipped,
    headless,
    *[
        pytest.param(fault, marks=posix)
        for fault in (
            a_folder,
            a_loop,
            a_pipe,
            writable_by_the_group,
            writable_by_all,
            a_link_to_what_all_may_write,
        )
    ],
    pytest.param(somebody_elses, marks=[posix, as_root]),
]


@pytest.mark.parametrize("fault", FAULTS)
def test_a_file_that_is_not_sound_is_as_good_as_none(place: Path, fault: Callable[[Path], None]) -> None:
    fault(place)
    assert read_kept(place, KEY) is None


def loosened(folder: Path) -> None:
    folder.chmod(0o770)


def open_to_all(folder: Path) -> None:
    folder.chmod(0o777)


def given_away(folder: Path) -> None:
    os.chown(folder, 12345, -1)


def a_link_to_a_folder_open_to_all(folder: Path) -> None:
    other = folder.with_name("other")
    folder.rename(other)
    other.chmod(0o777)
    folder.symlink_to(other, target_is_directory=True)


def a_file(folder: Path) -> None:
    folder.rename(folder.with_name("other"))
    folder.write_text("in the way")


@posix
@pytest.mark.parametrize("inner", [True, False])
@pytest.mark.parametrize(
    "fault",
    [loosened, open_to_all, a_link_to_a_folder_open_to_all, a_file, pytest.param(given_away, marks=as_root)],
)
def test_a_folder_that_others_may_write_to_is_not_used(place: Path, fault: Callable[[Path], None], inner: bool) -> None:
    folder = place.parent if inner else place.parent.parent
    fault(folder)
    with pytest.raises(NoFolder, match=str(folder)):
        private_folder("code")


def test_one_process_waits_while_another_makes_the_same(place: Path) -> None:
    seen: list[str] = []
    begun, finish = threading.Event(), threading.Event()

    def first() -> None:
        with in_turn(place, lambda: False):
            begun.set()
            finish.wait(30.0)
            seen.append("first")

    def asked() -> bool:
        finish.set()
        return False

    other = threading.Thread(target=first)
    other.start()
    assert begun.wait(30.0)
    with in_turn(place, asked):
        seen.append("second")
    other.join()
    assert seen == ["first", "second"]


def test_who_is_stopped_waits_no_longer(place: Path) -> None:
    with in_turn(place, lambda: False):
        asked: list[int] = []

        def stopped() -> bool:
            asked.append(1)
            return len(asked) > 1

        with in_turn(place, stopped):
            assert len(asked) == 2


def test_where_files_cannot_be_locked_nobody_waits(tmp_path: Path) -> None:
    with in_turn(tmp_path / "no such folder" / "march", lambda: False):
        pass


def test_where_the_cache_is(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BURNSIM_CACHE", str(tmp_path / "cache"))
    assert cache.cache_folder() == tmp_path / "cache"
    monkeypatch.delenv("BURNSIM_CACHE")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "xdg"))
    assert cache.cache_folder() == tmp_path / "xdg" / "burnsim"
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    for useless in ("relative", ""):
        monkeypatch.setenv("XDG_CACHE_HOME", useless)
        assert cache.cache_folder() == tmp_path / "home" / ".cache" / "burnsim"


def test_no_home_no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    def homeless() -> Path:
        raise RuntimeError("no home")

    monkeypatch.delenv("BURNSIM_CACHE", raising=False)
    monkeypatch.delenv("XDG_CACHE_HOME", raising=False)
    monkeypatch.setattr(Path, "home", homeless)
    assert cache.cache_folder() is None


def test_without_a_home_there_is_no_folder(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(cache, "cache_folder", lambda: None)
    with pytest.raises(NoFolder, match="no home"):
        private_folder("code")


def full(*_: object, **__: object) -> int:
    raise OSError(28, "No space left on device")


def test_a_full_disk_leaves_nothing_behind(monkeypatch: pytest.MonkeyPatch, place: Path) -> None:
    monkeypatch.setattr(Path, "replace", full)
    assert not keep(place.with_name("next.o"), KEY, CODE)
    assert [file.name for file in place.parent.iterdir()] == ["march.o"]


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="no device that is always full")
def test_a_device_that_is_full_is_no_error(monkeypatch: pytest.MonkeyPatch, place: Path) -> None:
    monkeypatch.setattr(cache, "_privately", lambda path, flags: os.open("/dev/full", os.O_WRONLY))
    assert not keep(place.with_name("next.o"), KEY, CODE)


# the march from a cache folder in every state

DESIGN = ROOT / "examples" / "weekend_double_wall.toml"


def boiled(folder: Path) -> tuple[float, str]:
    """When the water boils in a fresh process with a cache folder, and what that says on stderr."""
    code = (
        f"import burnsim; (found,) = burnsim.burn_many([burnsim.load({str(DESIGN)!r})], engine='compiled'); "
        "print(repr(found.milestones.boil.time))"
    )
    environment = {**os.environ, "BURNSIM_CACHE": str(folder)}
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, env=environment, cwd=ROOT
    )
    return float(done.stdout), done.stderr


@pytest.fixture(scope="module")
def filled(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, float]:
    """A cache folder with the march in it, and when the water boils."""
    (found,) = burnsim.burn_many([burnsim.load(DESIGN)], engine="compiled")
    assert isinstance(found, burnsim.Outcome)
    folder = tmp_path_factory.mktemp("filled") / "cache"
    shutil.copytree(os.environ["BURNSIM_CACHE"], folder)
    assert found.milestones.boil.time is not None
    return folder, found.milestones.boil.time


def march_in(folder: Path) -> Path:
    return folder / engine.FOLDER / engine._name(1, engine._key(1))


def test_a_march_is_compiled_once(filled: tuple[Path, float]) -> None:
    folder, time = filled
    assert boiled(folder) == (time, "")


def begin(monkeypatch: pytest.MonkeyPatch, folder: Path, code: bytes) -> None:
    """Let this process be as one that has just begun with a cache folder; what its compiler makes lies ready."""
    monkeypatch.setenv("BURNSIM_CACHE", str(folder))
    monkeypatch.setattr(engine, "_entries", {})
    monkeypatch.setattr(engine, "_looked", set())
    monkeypatch.setattr(engine, "_folder", functools.cache(engine._folder.__wrapped__))
    monkeypatch.setattr(machine, "object_code", lambda text: [code])


def test_a_damaged_march_is_made_again(
    filled: tuple[Path, float], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Whatever the damage: `read_kept` takes none of them for the march, above."""
    folder, time = filled
    code = read_kept(march_in(folder), engine._key(1))
    assert code is not None
    flipped(march_in(folder))
    begin(monkeypatch, folder, code)
    (found,) = burnsim.burn_many([burnsim.load(DESIGN)], engine="compiled")
    assert isinstance(found, burnsim.Outcome)
    assert found.milestones.boil.time == time
    assert capsys.readouterr().err.count("compiling") == 1
    assert boiled(folder) == (time, "")


def unkept(folder: Path) -> None:
    folder.chmod(0o777)


def closed(folder: Path) -> None:
    (folder / engine.FOLDER).mkdir(mode=0o700)
    (folder / engine.FOLDER).chmod(0o500)


@posix
@pytest.mark.parametrize(
    "how",
    [
        unkept,
        pytest.param(
            closed, marks=pytest.mark.skipif(getattr(os, "geteuid", lambda: 1)() == 0, reason="root writes everywhere")
        ),
    ],
)
def test_a_march_is_burnt_from_memory_where_it_cannot_be_kept(
    filled: tuple[Path, float],
    how: Callable[[Path], None],
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    kept, time = filled
    code = read_kept(march_in(kept), engine._key(1))
    assert code is not None
    folder = tmp_path / "cache"
    folder.mkdir(mode=0o700)
    how(folder)
    begin(monkeypatch, folder, code)
    for _ in range(2):
        (found,) = burnsim.burn_many([burnsim.load(DESIGN)], engine="compiled")
        assert isinstance(found, burnsim.Outcome)
        assert found.milestones.boil.time == time
    assert capsys.readouterr().err.count("is not kept between runs") == 1
    assert list(folder.rglob("*.o")) == []
