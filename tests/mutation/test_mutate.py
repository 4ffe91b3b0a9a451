"""The faults that the mutation check makes, on a text of known faults; and that a fault is told from none."""

import ast

from mutation.mutate import mutants

TEXT = '''
"""A room."""
SIZE = 2.0

def law(a: float, b: float = 0.0) -> float:
    """Twice 3."""
    if a > b and b < 1:
        return -a
    return SIZE * at_least(a, 0.5) ** within(b, a, 4.0)
'''


def test_each_fault_is_made_once_and_alone() -> None:
    made = {(fault.before, fault.after) for fault in mutants(TEXT)}
    assert made == {
        ("2.0", "2.2"),
        ("0.0", "1.0"),
        ("a > b and b < 1", "a > b or b < 1"),
        ("a > b", "a <= b"),
        ("b < 1", "b >= 1"),
        ("1", "2"),
        ("-a", "a"),
        ("SIZE * at_least(a, 0.5) ** within(b, a, 4.0)", "SIZE / at_least(a, 0.5) ** within(b, a, 4.0)"),
        ("at_least(a, 0.5) ** within(b, a, 4.0)", "at_least(a, 0.5) * within(b, a, 4.0)"),
        ("at_least(a, 0.5)", "at_most(a, 0.5)"),
        ("at_least(a, 0.5)", "a"),
        ("0.5", "0.55"),
        ("within(b, a, 4.0)", "b"),
        ("within(b, a, 4.0)", "at_least(b, a)"),
        ("within(b, a, 4.0)", "at_most(b, 4.0)"),
        ("4.0", "4.4"),
    }


def test_every_text_differs_from_the_room_in_one_line_and_no_other() -> None:
    plain = ast.unparse(ast.parse(TEXT)).splitlines()
    texts = [fault.text.splitlines() for fault in mutants(TEXT)]
    assert all(sum(one != other for one, other in zip(text, plain, strict=True)) == 1 for text in texts)


def test_only_what_is_named_is_changed() -> None:
    assert {fault.where for fault in mutants(TEXT, ("SIZE",))} == {"SIZE"}
