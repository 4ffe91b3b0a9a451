"""The lines of one function of machine text (LLVM's), block by block."""

import struct
from typing import NamedTuple

from burnsim.solve.compile.kinds import FLOAT, TRUTH, WHOLE, WORD, Kind, Scalar, Value, machine_types


class Slot(NamedTuple):
    """Memory of a value: its kind, and where each leaf lies, one after the other."""

    kind: Kind
    places: tuple[str, ...]


def float_literal(number: float) -> str:
    """A float as the machine text has it, to the last bit.

    >>> float_literal(1.0)
    '0x3FF0000000000000'
    """
    return f"0x{struct.unpack('<Q', struct.pack('<d', number))[0]:016X}"


def whole(leaf: str) -> int | None:
    """The number that a leaf stands for; None if it is not known here.

    >>> whole("-3"), whole("%v1"), whole("0x3FF0000000000000")
    (-3, None, None)
    """
    return int(leaf) if leaf.lstrip("-").isdigit() else None


class Lines:
    """Lines written so far. Local variables have memory, which the optimiser turns into registers."""

    def __init__(self) -> None:
        self.head: list[str] = []  # memory, made on entry
        self.body: list[str] = []
        self.count = 0
        self.block = "entry"
        self.ended = False  # nothing behind a jump is ever reached

    def fresh(self, what: str = "v") -> str:
        """A name that nothing has yet."""
        self.count += 1
        return f"{what}{self.count}"

    def say(self, line: str) -> None:
        """Write an instruction that gives nothing."""
        if not self.ended:
            self.body.append(f"  {line}")

    def get(self, line: str) -> str:
        """Write an instruction; the name of what it gives."""
        name = f"%{self.fresh()}"
        self.say(f"{name} = {line}")
        return name

    def open(self, block: str) -> None:
        """Begin a block."""
        self.body.append(f"{block}:")
        self.block = block
        self.ended = False

    def jump(self, block: str) -> None:
        """Go on in another block."""
        self.say(f"br label %{block}")
        self.ended = True

    def fork(self, test: str, one: str, other: str) -> None:
        """Go on in one of two blocks."""
        self.say(f"br i1 {test}, label %{one}, label %{other}")
        self.ended = True

    # memory

    def slot(self, kind: Kind) -> Slot:
        """Memory for a variable: a word for each leaf, one after the other."""
        room = f"%{self.fresh('m')}"
        self.head.append(f"  {room} = alloca [{max(len(machine_types(kind)), 1)} x i64]")
        return self.at(kind, room)

    def at(self, kind: Kind, room: str) -> Slot:
        """A variable in memory that is there on entry."""
        places = [room]
        for k in range(1, len(machine_types(kind))):
            places.append(f"%{self.fresh('m')}")
            self.head.append(f"  {places[-1]} = getelementptr i8, ptr {room}, i64 {WORD * k}")
        return Slot(kind, tuple(places[: len(machine_types(kind))]))

    def keep(self, slot: Slot, value: Value) -> None:
        """Write a value of the same kind into memory."""
        for leaf, place, machine in zip(value.leaves, slot.places, machine_types(slot.kind), strict=True):
            self.say(f"store {machine} {leaf}, ptr {place}")

    def read(self, slot: Slot) -> Value:
        """What stands in memory."""
        types = machine_types(slot.kind)
        leaves = [self.get(f"load {machine}, ptr {place}") for place, machine in zip(slot.places, types, strict=True)]
        return Value(slot.kind, tuple(leaves))

    def shifted(self, pointer: str, by: str) -> str:
        """An address so many floats further on."""
        return pointer if by == "0" else self.get(f"getelementptr double, ptr {pointer}, i64 {by}")

    # numbers

    def floated(self, value: Value) -> str:
        """A number as a float."""
        if value.kind == FLOAT:
            return value.leaves[0]
        (leaf,) = value.leaves
        if value.kind == TRUTH:
            return self.get(f"uitofp i1 {leaf} to double")
        number = whole(leaf)
        return self.get(f"sitofp i64 {leaf} to double") if number is None else float_literal(float(number))

    def turned(self, value: Value, kind: Kind) -> Value:
        """A value as another kind that takes it, its whole numbers made floats."""
        if value.kind == kind:
            return value
        leaves = []
        for leaf, given, wanted in zip(value.leaves, machine_types(value.kind), machine_types(kind), strict=True):
            leaves.append(leaf if given == wanted else self.floated(Value(Scalar(given), (leaf,))))
        return Value(kind, tuple(leaves))

    def product(self, one: str, other: str) -> str:
        """Product of whole numbers."""
        return self.whole_result("mul", one, other)

    def whole_result(self, operation: str, one: str, other: str) -> str:
        """A sum, difference or product of whole numbers, worked out here where both are known."""
        a, b = whole(one), whole(other)
        if a is not None and b is not None:
            return str({"add": a + b, "sub": a - b, "mul": a * b}[operation])
        return self.get(f"{operation} {WHOLE.machine} {one}, {other}")
