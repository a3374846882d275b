"""One script out of the phone's modules, for the first load over a thin link: 70 requests become one.

The modules stay what is written, read and tested. This puts each into a function of its own, in the order of their
imports, and strips comments and idle space. It knows the few forms of import and export that the modules use, and
refuses any other, so that a new form fails the build instead of a phone.
"""

import re
from pathlib import Path

import rjsmin

NAMES, FROM = r"\{(?P<names>[^}]*)\}", r'\s+from\s+"(?P<path>\.[^"]+)";\s*$'
IMPORT = re.compile(rf"^import\s+(?:{NAMES}|(?P<default>\w+)){FROM}", re.MULTILINE)
PASSED_ON = re.compile(rf"^export\s+{NAMES}{FROM}", re.MULTILINE)
DECLARED = re.compile(
    r"^export\s+(?P<kind>async function|function|const|class)\s+(?P<name>\w+)", re.MULTILINE
)
LISTED = re.compile(rf"^export\s+{NAMES};?\s*$", re.MULTILINE)
DEFAULT = re.compile(r"^export\s+default\s+", re.MULTILINE)


class NotBundled(ValueError):
    """A module that this can't put with the others: which, and why."""


def bundled(root: Path, entry: Path) -> str:
    """The script that does what the module `entry` does, with everything it imports.

    `import.meta.url` in it is the bundle's own address, so serve it from the entry's folder.
    """
    order: list[Path] = []
    visit(root, entry.resolve(), order, [])
    names = {module: f"m{number}" for number, module in enumerate(order)}
    parts = [f"const {names[module]}=(()=>{{{body(module, names)}}})();" for module in order]
    return rjsmin.jsmin("\n".join(parts))


def visit(root: Path, module: Path, order: list[Path], above: list[Path]) -> None:
    """Adds a module after everything it imports."""
    if module in order:
        return
    if module in above:
        raise NotBundled(f"{module.name} imports itself by way of {above[-1].name}")
    if not module.is_relative_to(root.resolve()) or not module.is_file():
        raise NotBundled(f"{above[-1].name} imports {module.name}, which isn't there")
    text = module.read_text(encoding="utf-8")
    for found in (*IMPORT.finditer(text), *PASSED_ON.finditer(text)):
        visit(root, (module.parent / found["path"]).resolve(), order, [*above, module])
    order.append(module)


def body(module: Path, names: dict[Path, str]) -> str:
    """The module's text as a function's, which gives back what the module exports."""
    text = PASSED_ON.sub(taken_and_given, module.read_text(encoding="utf-8"))
    exports = [found["name"] for found in DECLARED.finditer(text)]
    listed = [name for found in LISTED.finditer(text) for name in pairs(found["names"])]
    text = IMPORT.sub(lambda found: imported(module, found, names), text)
    text = LISTED.sub("", DECLARED.sub(lambda found: f"{found['kind']} {found['name']}", text))
    has_default = bool(DEFAULT.search(text))
    text = DEFAULT.sub("const theDefault = ", text)
    if left := re.search(r"^(?:import|export)\b.*", text, re.MULTILINE):
        raise NotBundled(f"{module.name}: {left.group()[:60]}")
    given = [*exports, *(f"{outer}:{inner}" if outer != inner else inner for inner, outer in listed)]
    if has_default:
        given.append("default:theDefault")
    return f"{text}\nreturn{{{','.join(given)}}};"


def taken_and_given(found: re.Match) -> str:
    """`export { a as b } from` as the import and the export that it is."""
    taken = ", ".join(inner for inner, _outer in pairs(found["names"]))
    return f'import {{{taken}}} from "{found["path"]}";\nexport {{{found["names"]}}};'


def imported(module: Path, found: re.Match, names: dict[Path, str]) -> str:
    """An import as a constant taken from what the other module gave back."""
    other = names[(module.parent / found["path"]).resolve()]
    if found["default"]:
        return f"const {{default:{found['default']}}}={other};"
    taken = ",".join(
        f"{outer}:{inner}" if outer != inner else inner for outer, inner in pairs(found["names"])
    )
    return f"const {{{taken}}}={other};"


def pairs(names: str) -> list[tuple[str, str]]:
    """`a, b as c` as [("a", "a"), ("b", "c")]."""
    found = [re.split(r"\s+as\s+", name.strip()) for name in names.split(",") if name.strip()]
    return [(name[0], name[-1]) for name in found]
