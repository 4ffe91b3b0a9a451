"""From machine text to machine code for this processor, and from there into this process.

LLVM does the work, by way of llvmlite. What comes out is an object file as any compiler makes it, which can be kept and
loaded again. Nothing here relaxes the arithmetic of floats: no sum is reordered, no product fused with a sum.
"""

import ctypes
import sys
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import llvmlite
import llvmlite.binding as llvm

from burnsim.solve.compile.expressions import MATHEMATICS

Entry = Callable[[int], int]
"""Takes the address of a row of eight-byte words, and returns a whole number; other threads run meanwhile."""
ADDED = ("memcpy", "memmove", "memset", "exp2", "exp10", "ldexp")
"""Functions of the C library that LLVM may call in place of others, or of loops."""
CODE_MODEL = "jitdefault" if sys.platform == "win32" else "small"
"""Constants are read from where the code stands: by whole addresses, as code for anywhere has them, each takes a
register and an instruction more. All sections then lie together (`use_lmm`). Windows asks for the other."""

_loaded: list[Any] = []
"""What holds loaded code; it stays to the end of the process, since entries point into it."""


@cache
def _target() -> Any:
    """The machine that this process runs on."""
    llvm.initialize_native_target()
    llvm.initialize_native_asmprinter()
    target = llvm.Target.from_triple(llvm.get_process_triple())
    return target.create_target_machine(
        cpu=llvm.get_host_cpu_name(),
        features=llvm.get_host_cpu_features().flatten(),
        opt=2,
        reloc="pic",
        codemodel=CODE_MODEL,
        jit=True,
    )


def host() -> tuple[str, ...]:
    """All on which machine code depends beside its text: the processor, and the versions of what makes it."""
    features = llvm.get_host_cpu_features().flatten()
    compiler = ".".join([str(number) for number in llvm.llvm_version_info])
    return (llvm.get_process_triple(), llvm.get_host_cpu_name(), features, compiler, llvmlite.__version__, sys.version)


def object_code(text: str) -> Iterator[bytes]:
    """Compile machine text, in steps; the last gives the object file, those before nothing.

    Between two steps a caller may stop.

    Parameters
    ----------
    text : of a module with a public function `entry`
    """
    machine = _target()
    module = llvm.parse_assembly(text)
    module.triple = llvm.get_process_triple()
    module.data_layout = str(machine.target_data)
    module.verify()
    yield b""
    options = llvm.create_pipeline_tuning_options(speed_level=2)
    options.loop_vectorization = options.slp_vectorization = False  # gains nothing here, and takes a second
    builder = llvm.create_pass_builder(machine, options)
    # Text as it was written is full of memory for local variables: simplified first, the usual passes take less.
    early = llvm.create_new_module_pass_manager()
    for _ in range(2):
        early.add_sroa_pass()
        early.add_instruction_combine_pass()
        early.add_simplify_cfg_pass()
        early.add_always_inliner_pass()
    early.add_new_gvn_pass()
    early.add_dead_store_elimination_pass()
    early.add_aggressive_dce_pass()
    early.run(module, builder)
    yield b""
    builder.getModulePassManager().run(module, builder)
    yield b""
    yield machine.emit_object(module)


def entry_of(code: bytes) -> Entry:
    """Load an object file; its function `entry`.

    Raises
    ------
    RuntimeError
        If it is no object file of this machine, or calls what there is not.
    """
    _provide()
    engine = llvm.create_mcjit_compiler(llvm.parse_assembly(""), _target())
    engine.add_object_file(llvm.ObjectFileRef.from_data(code))
    engine.finalize_object()
    address = engine.get_function_address("entry")
    if not address:
        raise RuntimeError("the machine code has no entry")
    _loaded.append(engine)
    return ctypes.CFUNCTYPE(ctypes.c_int64, ctypes.c_void_p)(address)


@cache
def _provide() -> None:
    """Tell the loader where the C library's functions are: not every system lets it find them by itself."""
    library = ctypes.CDLL("ucrtbase" if sys.platform == "win32" else None)
    for name in (*MATHEMATICS, *ADDED):
        if hasattr(library, name):
            llvm.add_symbol(name, ctypes.cast(getattr(library, name), ctypes.c_void_p).value)
