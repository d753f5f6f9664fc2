"""The house style that a machine can measure: quiet computing packages, and sizes, each exception with its reason."""

import ast
from collections.abc import Iterator
from pathlib import Path

import pytest

SOURCE = Path(__file__).parents[2] / "src" / "fencewright"
COMPUTING = (
    "geometry",
    "mechanics",
    "tables",
    "layout",
    "topline",
    "takeoff",
    "stakeout",
    "price",
    "programme",
    "pipeline",
    "job",
    "site",
    "findings",
    "quantity",
)
QUIET_CALLS = {"open", "print", "input", "exec", "eval"}
LOOSE_NAMES = {"utils", "util", "helpers", "helper", "common", "core", "manager", "misc"}

MOST_LINES, MOST_BODY_LINES, MOST_ARGUMENTS = 400, 60, 7

# Exceptions, each with its reason.
LONG_MODULES = {
    "job/defaults.py": "one function for each table of the job file; the defaults are read side by side",
}
LONG_FUNCTIONS: dict[str, str] = {}
MANY_ARGUMENTS = {
    "cli/main.py:price": "each is an option of the command line, which is read from the function's own arguments",
}

Function = ast.FunctionDef | ast.AsyncFunctionDef


def modules() -> list[Path]:
    return sorted(SOURCE.rglob("*.py"))


def name_of(path: Path) -> str:
    return path.relative_to(SOURCE).as_posix()


def functions() -> Iterator[tuple[str, Function]]:
    for path in modules():
        tree = ast.parse(path.read_text("utf-8"))
        for node in ast.walk(tree):
            if isinstance(node, Function):
                yield f"{name_of(path)}:{node.name}", node


def body_lines(function: Function) -> int:
    """Lines from the first statement after the docstring to the last."""
    body = function.body
    first = body[0]
    if (
        isinstance(first, ast.Expr)
        and isinstance(first.value, ast.Constant)
        and isinstance(first.value.value, str)
    ):
        body = body[1:]
    return (body[-1].end_lineno or 0) - body[0].lineno + 1 if body else 0


def argument_count(function: Function) -> int:
    args = function.args
    names = [one.arg for one in (*args.posonlyargs, *args.args, *args.kwonlyargs)]
    return len([name for name in names if name not in ("self", "cls")])


def called_names(path: Path) -> set[str]:
    calls = [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call)]
    return {call.func.id for call in calls if isinstance(call.func, ast.Name)}


@pytest.mark.parametrize("package", COMPUTING)
def test_computing_packages_open_and_print_nothing(package: str) -> None:
    for path in sorted((SOURCE / package).rglob("*.py")):
        assert not called_names(path) & QUIET_CALLS, name_of(path)


def test_the_quiet_calls_are_seen_where_they_are_made() -> None:
    assert "print" in called_names(SOURCE / "cli" / "main.py")


def test_modules_are_short_or_listed() -> None:
    long = {name_of(path) for path in modules() if len(path.read_text("utf-8").splitlines()) > MOST_LINES}
    assert not long - set(LONG_MODULES)


def test_function_bodies_are_short_or_listed() -> None:
    long = {name for name, node in functions() if body_lines(node) > MOST_BODY_LINES}
    assert not long - set(LONG_FUNCTIONS)


def test_functions_take_few_arguments_or_are_listed() -> None:
    many = {name for name, node in functions() if argument_count(node) > MOST_ARGUMENTS}
    assert not many - set(MANY_ARGUMENTS)


def test_exceptions_name_what_is_there_and_say_why() -> None:
    known = {name for name, _ in functions()} | {name_of(path) for path in modules()}
    listed = {**LONG_MODULES, **LONG_FUNCTIONS, **MANY_ARGUMENTS}
    assert not set(listed) - known
    assert min(map(len, listed.values())) > 20


def test_no_module_is_named_for_nothing() -> None:
    assert not [name_of(path) for path in modules() if path.stem in LOOSE_NAMES]


def test_every_module_has_a_docstring() -> None:
    assert not [
        name_of(path) for path in modules() if not ast.get_docstring(ast.parse(path.read_text("utf-8")))
    ]


def test_every_package_holds_code() -> None:
    folders = [
        path
        for path in SOURCE.iterdir()
        if path.is_dir() and path.name not in ("data", "page", "__pycache__")
    ]
    assert not [path.name for path in folders if not (path / "__init__.py").is_file()]


def test_user_input_is_never_checked_by_assert() -> None:
    asserting = [
        name_of(path)
        for path in modules()
        if any(isinstance(node, ast.Assert) for node in ast.walk(ast.parse(path.read_text("utf-8"))))
    ]
    assert not asserting
