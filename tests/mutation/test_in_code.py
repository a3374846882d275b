import ast

from tests.mutation.in_code import changes_of

SOURCE = '''
LIMIT: tuple[float, int] = (0.5, 0)


def inside(a: float, b: float = 2.0) -> bool:
    """Not 3."""
    return -1 < a <= b or a is None and all(zip([a], [b], strict=True))
'''


def test_each_constant_and_comparison_is_changed_once_on_its_own():
    plain = ast.unparse(ast.parse(SOURCE))
    changed = {}
    for n, change in enumerate(changes_of(ast.parse(SOURCE))):
        tree = ast.parse(SOURCE)
        changes_of(tree)[n].make()
        changed[change.key] = ast.unparse(tree)

    assert list(changed) == [
        "module: (0.5, 0): 0.5 becomes 0.505",
        "module: (0.5, 0): 0 becomes 1",
        "inside: a: float, b: float=2.0: 2.0 becomes 2.02",
        "inside: -1 < a <= b: Lt becomes LtE",
        "inside: -1 < a <= b: Lt becomes GtE",
        "inside: -1 < a <= b: LtE becomes Lt",
        "inside: -1 < a <= b: LtE becomes Gt",
        "inside: -1: 1 becomes 2",
        "inside: a is None: Is becomes IsNot",
    ]
    assert len({plain, *changed.values()}) == len(changed) + 1
    assert "return -1 < a < b or" in changed["inside: -1 < a <= b: LtE becomes Lt"]
