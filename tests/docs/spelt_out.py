"""What the source can say, spelt out: the texts that an expression can come to, its names and calls followed.

Read from the syntax tree alone. `{}` stands for a value that is known only when the program runs.
"""

import ast
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

SOURCE = Path(__file__).parents[2] / "src" / "fencewright"
VALUE = "{}"
DEEPEST = 8  # calls and names followed from one expression
MOST_WAYS = 200
COUNTS = {"counted", "unit_of"}  # quantity/show.py: a count with its unit, singular and plural

Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass
class Module:
    """One file: its names, its functions, and where each call of it stands."""

    path: Path
    tree: ast.Module
    constants: dict[str, list[ast.expr]] = field(default_factory=dict)
    functions: dict[str, Function] = field(default_factory=dict)
    imported: dict[str, tuple[str, str]] = field(default_factory=dict)
    inside: dict[int, Function | None] = field(default_factory=dict)


def _read(path: Path) -> Module:
    module = Module(path, ast.parse(path.read_text("utf-8")))
    for node in module.tree.body:
        targets = node.targets if isinstance(node, ast.Assign) else [getattr(node, "target", None)]
        for target in targets:
            if isinstance(target, ast.Name) and getattr(node, "value", None) is not None:
                module.constants.setdefault(target.id, []).append(node.value)  # type: ignore[attr-defined]
        if isinstance(node, ast.ImportFrom) and node.module:
            module.imported |= {name.asname or name.name: (node.module, name.name) for name in node.names}

    def walk(node: ast.AST, function: Function | None) -> None:
        module.inside[id(node)] = function
        if isinstance(node, Function):
            module.functions.setdefault(node.name, node)
            function = node
        for child in ast.iter_child_nodes(node):
            walk(child, function)

    walk(module.tree, None)
    return module


@cache
def modules() -> dict[str, Module]:
    """Every module of the program by its dotted name."""
    found = {}
    for path in sorted(SOURCE.rglob("*.py")):
        steps = ["fencewright", *path.relative_to(SOURCE).with_suffix("").parts]
        found[".".join(step for step in steps if step != "__init__")] = _read(path)
    return found


@cache
def _calls() -> dict[str, list[tuple[Module, ast.Call]]]:
    """Calls by the last name of what is called."""
    found = defaultdict(list)
    for module in modules().values():
        for node in ast.walk(module.tree):
            if isinstance(node, ast.Call):
                found[called(node)].append((module, node))
    return found


def called(call: ast.Call) -> str:
    """The last name of what a call calls."""
    return getattr(call.func, "id", "") or getattr(call.func, "attr", "")


def _elsewhere(module: Module, name: str) -> tuple[Module, str] | None:
    """Where a name that a module imports is made."""
    for _ in range(4):
        if name not in module.imported:
            return module, name
        home, name = module.imported[name]
        if home not in modules():
            return None
        module = modules()[home]
    return None


def texts_of(node: ast.AST | None, module: Module, depth: int = 0) -> list[str]:
    """The texts that an expression can come to; `[VALUE]` where nothing is known of it."""
    if depth > DEEPEST:
        return [VALUE]
    match node:
        case ast.Constant(value=str(text)):
            return [text]
        case ast.Constant(value=None):
            return []
        case ast.IfExp(body=body, orelse=other):
            return _either([body, other], module, depth)
        case ast.BoolOp(values=values):
            return _either(values, module, depth)
        case ast.JoinedStr(values=parts):
            return _joined(parts, module, depth)
        case ast.FormattedValue(value=value, format_spec=None, conversion=-1):
            return texts_of(value, module, depth)
        case ast.BinOp(left=left, op=ast.Add(), right=right):
            return _joined([left, right], module, depth)
        case ast.NamedExpr(value=value):
            return texts_of(value, module, depth)
        case ast.Name():
            return _named(node, module, depth)
        case ast.Subscript(value=value):
            return _looked_up(value, module, depth)
        case ast.Call():
            return _called(node, module, depth)
        case _:
            return [VALUE]


def _either(nodes: Sequence[ast.AST], module: Module, depth: int) -> list[str]:
    found = [text for node in nodes for text in texts_of(node, module, depth)]
    return list(dict.fromkeys(found))[:MOST_WAYS]


def _joined(nodes: Sequence[ast.AST], module: Module, depth: int) -> list[str]:
    """Each part in each of its ways, the others in their first and last: every word is met, and few texts are made."""
    ways = [texts_of(node, module, depth) or [VALUE] for node in nodes]
    found = []
    for others in (0, -1):
        for place, own in enumerate(ways):
            for text in own:
                found.append("".join(text if at == place else way[others] for at, way in enumerate(ways)))
    return list(dict.fromkeys(found))[:MOST_WAYS] or [""]


def _looked_up(value: ast.AST, module: Module, depth: int) -> list[str]:
    """What stands in a mapping or a row of texts, whichever is taken of it."""
    if isinstance(value, ast.Name):
        place = _elsewhere(module, value.id)
        if place and place[1] in place[0].constants:
            return _looked_up(place[0].constants[place[1]][0], place[0], depth + 1)
        return [VALUE]
    if isinstance(value, ast.Call) and called(value) in ("MappingProxyType", "dict") and value.args:
        return _looked_up(value.args[0], module, depth)
    held = value.values if isinstance(value, ast.Dict) else getattr(value, "elts", None)
    if not held:
        return [VALUE]
    return _either(held, module, depth + 1)


def _named(name: ast.Name, module: Module, depth: int) -> list[str]:
    function = module.inside.get(id(name))
    while function is not None:
        given = list(_given(name.id, function, module))
        if given:
            return _either([node for node in given if not _is_own(node, name.id)], module, depth + 1) or [
                VALUE
            ]
        arguments = [
            one.arg for one in (*function.args.posonlyargs, *function.args.args, *function.args.kwonlyargs)
        ]
        if name.id in arguments:
            return _handed(name.id, function, depth)
        if _is_bound(name.id, function):
            return [VALUE]
        function = module.inside.get(id(function))
    place = _elsewhere(module, name.id)
    if place and place[1] in place[0].constants:
        return _either(place[0].constants[place[1]], place[0], depth + 1)
    return [VALUE]


def _is_own(node: ast.AST, name: str) -> bool:
    return any(isinstance(part, ast.Name) and part.id == name for part in ast.walk(node))


def _rows_of(value: ast.AST, module: Module, function: Function | None = None) -> list[ast.expr]:
    """What a loop goes through, where that is written out."""
    if (
        isinstance(value, ast.Call)
        and called(value) in ("items", "values")
        and isinstance(value.func, ast.Attribute)
    ):
        held = _rows_of(value.func.value, module, function)
        pairs = [row for row in held if isinstance(row, ast.Tuple)]
        return [row.elts[1] for row in pairs] if called(value) == "values" else held
    if isinstance(value, ast.Call) and isinstance(value.func, ast.Name):
        place = _elsewhere(module, value.func.id)
        giver = place[0].functions.get(place[1]) if place else None
        given = (
            [node.value for node in ast.walk(giver) if isinstance(node, ast.Return) and node.value]
            if giver
            else []
        )
        return [row for node in given if isinstance(node, ast.List | ast.Tuple) for row in node.elts]
    if isinstance(value, ast.Name):
        here = [node for node in ast.walk(function) if isinstance(node, ast.Assign)] if function else []
        own = [node.value for node in here if getattr(node.targets[0], "id", "") == value.id]
        place = _elsewhere(module, value.id)
        made = own or (place[0].constants.get(place[1]) if place else None)
        return _rows_of(made[0], module) if made and not isinstance(made[0], ast.Name) else []
    if isinstance(value, ast.Dict):
        return [
            ast.Tuple([key, one], ast.Load())
            for key, one in zip(value.keys, value.values, strict=True)
            if key
        ]
    return list(value.elts) if isinstance(value, ast.Tuple | ast.List) else []


def _given(name: str, function: Function, module: Module) -> Iterator[ast.AST]:
    """What a function gives to one of its names."""
    for node in ast.walk(function):
        targets: list[ast.AST] = []
        value: ast.AST | None = getattr(node, "value", None)
        if isinstance(node, ast.Assign):
            targets = list(node.targets)
        elif isinstance(node, ast.AnnAssign | ast.NamedExpr | ast.AugAssign):
            targets = [node.target]
        elif isinstance(node, ast.For | ast.comprehension):
            for row in _rows_of(node.iter, module, function):
                yield from _taken_apart(node.target, row, name)
            continue
        for target in targets:
            if value is not None:
                yield from _taken_apart(target, value, name)


def _taken_apart(target: ast.AST, value: ast.AST, name: str) -> Iterator[ast.AST]:
    if isinstance(target, ast.Name) and target.id == name:
        yield value
    elif (
        isinstance(target, ast.Tuple) and isinstance(value, ast.Tuple) and len(target.elts) == len(value.elts)
    ):
        for one, own in zip(target.elts, value.elts, strict=True):
            yield from _taken_apart(one, own, name)
    elif isinstance(target, ast.Tuple) and isinstance(value, ast.IfExp):
        yield from _taken_apart(target, value.body, name)
        yield from _taken_apart(target, value.orelse, name)


def _is_bound(name: str, function: Function) -> bool:
    return any(
        isinstance(node, ast.Name) and node.id == name and isinstance(node.ctx, ast.Store)
        for node in ast.walk(function)
    )


def _handed(name: str, function: Function, depth: int) -> list[str]:
    """What its callers hand to an argument of a function."""
    arguments = [*function.args.posonlyargs, *function.args.args]
    names = [one.arg for one in arguments]
    is_method = bool(names) and names[0] in ("self", "cls")
    own = "__init__"
    found: list[str] = []
    handed: list[tuple[Module, ast.AST]] = []
    if function.name != own:
        home = next(one for one in modules().values() if id(function) in one.inside)
        for module, call in _calls()[function.name]:
            place = _elsewhere(module, called(call)) if isinstance(call.func, ast.Name) else None
            if isinstance(call.func, ast.Name) and (place is None or place[0] is not home):
                continue  # another function of that name
            if any(isinstance(one, ast.Starred) for one in call.args):
                continue
            places = names[1:] if is_method else names
            by_name = {word.arg: word.value for word in call.keywords}
            if name in by_name:
                handed.append((module, by_name[name]))
            elif name in places and places.index(name) < len(call.args):
                handed.append((module, call.args[places.index(name)]))
    for module, node in handed:
        found += texts_of(node, module, depth + 2)
    return list(dict.fromkeys(found))[:MOST_WAYS] or [VALUE]


def _called(call: ast.Call, module: Module, depth: int) -> list[str]:
    name = called(call)
    if name in COUNTS and len(call.args) == 2:
        lead = f"{VALUE} " if name == "counted" else ""
        units = texts_of(call.args[1], module, depth + 1)
        return [f"{lead}{unit}{end}" for unit in units for end in (("", "s") if unit != VALUE else ("",))]
    if name == "get" and isinstance(call.func, ast.Attribute):
        return _looked_up(call.func.value, module, depth) + [
            text for one in call.args[1:] for text in texts_of(one, module, depth)
        ]
    if name == "str" and call.args:
        return [VALUE]
    place = _elsewhere(module, name) if isinstance(call.func, ast.Name) else _method(call, module)
    if place is None or place[1] not in place[0].functions:
        return [VALUE]
    home, function = place[0], place[0].functions[place[1]]
    returned = [node.value for node in ast.walk(function) if isinstance(node, ast.Return) and node.value]
    if not returned or depth + 2 > DEEPEST:
        return [VALUE]
    return _either(returned, home, depth + 2)


def _method(call: ast.Call, module: Module) -> tuple[Module, str] | None:
    """Where a method is defined: beside its caller, or in the one place that has something of that name."""
    name = called(call)
    is_own = isinstance(call.func, ast.Attribute) and getattr(call.func.value, "id", "") in ("self", "cls")
    homes = [module] if is_own else [one for one in modules().values() if name in one.functions]
    return (homes[0], name) if len(homes) == 1 and name in homes[0].functions else None


def arguments_of(names: frozenset[str], packages: Sequence[str] = ()) -> Iterator[tuple[Module, ast.Call]]:
    """Calls of any of these names, in some packages or in all."""
    for dotted, module in modules().items():
        if not packages or (dotted.split(".")[1:2] and dotted.split(".")[1] in packages):
            for node in ast.walk(module.tree):
                if isinstance(node, ast.Call) and called(node) in names:
                    yield module, node


@cache
def every_text() -> frozenset[str]:
    """Every text that any expression of the program can come to, and what is written behind another text."""
    found: set[str] = set()
    for module in modules().values():
        for node in ast.walk(module.tree):
            if isinstance(node, ast.Constant | ast.JoinedStr | ast.BinOp):
                found.update(texts_of(node, module, DEEPEST - 4))
            elif isinstance(node, ast.AugAssign):
                found.update(VALUE + text for text in texts_of(node.value, module, DEEPEST - 4))
    return frozenset(found)
