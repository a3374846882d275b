"""A few scripts out of the phone's modules, for the first load over a thin link: 70 requests become one, and what the
first view doesn't need comes later.

The modules stay what is written, read and tested. This puts each into a function of its own, in the order of their
imports, and has a minifier shorten the whole. It knows the few forms of import and export that the modules use, and
refuses any other, so that a new form fails the build instead of a phone.

What a module imports goes into its script. What it asks for by `import("./name.js" + again)` goes into a later one with
everything that only that needs; modules asked for so that share something go into one. A module is in one script only,
so its state is one. A later script imports from the first and from no other: that one is there already, so a later one
is all there or not at all. An export goes by a letter, except where it is asked for by `import()`. `again` is a query,
or nothing: another address for another try, since some browsers keep a module that failed to load as failed.
"""

import re
from collections.abc import Collection
from dataclasses import dataclass, field
from pathlib import Path
from string import ascii_letters

import minify

FIRST = "bundle.js"
# Chromium compiles all of such a script while it comes, beside the page's own thread, instead of each function there as
# it is first called (its "explicit compile hints"). To other browsers it is a comment.
AT_ONCE = "//# allFunctionsCalledOnLoad\n"
LETTERS = [*ascii_letters, *(first + second for first in ascii_letters for second in ascii_letters)]

NAMES, FROM = r"\{(?P<names>[^}]*)\}", r'\s+from\s+"(?P<path>\.[^"]+)";\s*$'
IMPORT = re.compile(rf"^import\s+(?:{NAMES}|(?P<default>\w+)){FROM}", re.MULTILINE)
PASSED_ON = re.compile(rf"^export\s+{NAMES}{FROM}", re.MULTILINE)
DECLARED = re.compile(
    r"^export\s+(?P<kind>async function|function|const|class)\s+(?P<name>\w+)", re.MULTILINE
)
LISTED = re.compile(rf"^export\s+{NAMES};?\s*$", re.MULTILINE)
DEFAULT = re.compile(r"^export\s+default\s+", re.MULTILINE)
LATER = re.compile(r'\bimport\("(?P<path>\./[^"]+|\.\./[^"]+)" \+ again\)')
UNKNOWN = re.compile(r"^(?:import|export)\b.*|\bimport\s*\(.*", re.MULTILINE)


class NotBundled(ValueError):
    """A module that this can't put with the others: which, and why."""


@dataclass
class Bundles:
    """Which module goes into which script.

    Attributes
    ----------
    scripts : dict of str to list of Path
        By a script's file name, the first one's first, its modules, each after those that it imports.
    names : dict of Path to str
        What a module is called in all of the scripts.
    kept : set of Path
        The modules that are asked for later: what they export keeps its names, which are in the words of who asks.
    taken : dict of Path to list of str
        What the others import of a module, by the names that it exports.
    """

    scripts: dict[str, list[Path]] = field(default_factory=dict)
    names: dict[Path, str] = field(default_factory=dict)
    kept: set[Path] = field(default_factory=set)
    taken: dict[Path, list[str]] = field(default_factory=dict)

    def add(self, name: str, modules: list[Path]) -> None:
        """Puts modules that are in no script yet into a new one."""
        self.scripts[name] = modules
        for module in modules:
            self.names[module] = f"m{len(self.names)}"
            self.know(module)

    def know(self, module: Path) -> None:
        """Notes what a module imports and what it asks for later."""
        self.kept.update(asked_later(module))
        for found in import_statements(module):
            taken = self.taken.setdefault((module.parent / found["path"]).resolve(), [])
            taken += [name for name, _inner in taken_by(found) if name not in taken]

    def exported(self, module: Path, name: str) -> str | None:
        """What an export is called in the scripts: a letter; None where nobody takes it."""
        if module in self.kept:
            return name
        taken = self.taken.get(module, [])
        return LETTERS[taken.index(name)] if name in taken else None

    def has(self, modules: list[Path]) -> bool:
        """Whether these modules are in a script."""
        return modules in self.scripts.values()

    def script_of(self, module: Path) -> str:
        """The script that a module is in."""
        return next(name for name, modules in self.scripts.items() if module in modules)


def bundled(root: Path, entry: Path, at_once: Collection[str] = ()) -> dict[str, str]:
    """By their file names, the scripts that do what the module `entry` does, with everything it imports, now or later.

    `import.meta.url` in them is the script's own address, so serve them from the entry's folder. `at_once` names those
    of which nearly all is called: they ask to be compiled at once.
    """
    bundles = split(root, entry)
    if missing := set(at_once) - set(bundles.scripts):
        raise NotBundled(f"to be compiled at once, but not there: {', '.join(sorted(missing))}")
    hint = {name: AT_ONCE if name in at_once else "" for name in bundles.scripts}
    return {name: hint[name] + minified(written(name, bundles)) for name in bundles.scripts}


def minified(script: str) -> str:
    """A script that does the same with fewer letters."""
    return minify.string("application/javascript", script)


def split(root: Path, entry: Path) -> Bundles:
    """Puts every module into the script it belongs to."""
    bundles = Bundles()
    first = with_imports(root, entry.resolve())
    bundles.add(FIRST, first)
    groups: list[list[Path]] = []
    waiting, seen = list(first), set(first)
    entries: list[Path] = []
    while waiting:
        module = waiting.pop(0)
        for asked in asked_later(module):
            if asked in first:
                raise NotBundled(f"{module.name} asks later for {asked.name}, which is imported at once")
            if asked not in entries:
                entries.append(asked)
                own = [one for one in with_imports(root, asked) if one not in first]
                groups = together(groups, own)
                waiting += [one for one in own if one not in seen]
                seen.update(own)
    for named in entries:
        group = next((group for group in groups if named in group and not bundles.has(group)), None)
        if group:
            bundles.add(f"bundle-{named.stem}.js", group)
    return bundles


def together(groups: list[list[Path]], own: list[Path]) -> list[list[Path]]:
    """The groups and another one; those that share a module become one, in an order that holds for both."""
    sharing = [group for group in groups if set(group) & set(own)]
    one = list(dict.fromkeys(module for group in [*sharing, own] for module in group))
    return [group for group in groups if group not in sharing] + [one]


def with_imports(root: Path, module: Path) -> list[Path]:
    """A module and everything it imports at once, each after what it imports itself."""
    order: list[Path] = []
    visit(root, module, order, [])
    return order


def visit(root: Path, module: Path, order: list[Path], above: list[Path]) -> None:
    """Adds a module after everything it imports."""
    if module in order:
        return
    if module in above:
        raise NotBundled(f"{module.name} imports itself by way of {above[-1].name}")
    if not module.is_relative_to(root.resolve()) or not module.is_file():
        asking = above[-1].name if above else "another module"
        raise NotBundled(f"{asking} imports {module.name}, which isn't there")
    for found in import_statements(module):
        visit(root, (module.parent / found["path"]).resolve(), order, [*above, module])
    order.append(module)


def asked_later(module: Path) -> list[Path]:
    """The modules that a module asks for when they are needed."""
    text = module.read_text(encoding="utf-8")
    return [(module.parent / found["path"]).resolve() for found in LATER.finditer(text)]


def written(name: str, bundles: Bundles) -> str:
    """One script: what it takes from the first, its modules, what others take from it."""
    modules, names = bundles.scripts[name], bundles.names
    parts = [f"const {names[module]}=(()=>{{{body(module, bundles)}}})();" for module in modules]
    taken = taken_from_others(modules, names)
    if taken:
        parts.insert(0, f'import{{{",".join(taken)}}}from"./{FIRST}";')
    given = given_to_others(name, bundles)
    return "\n".join([*parts, f"export{{{','.join(given)}}};" if given else ""])


def taken_from_others(modules: list[Path], names: dict[Path, str]) -> list[str]:
    """What these modules import of a module that isn't among them."""
    wanted = dict.fromkeys(other for module in modules for other in imports_of(module))
    return [names[other] for other in wanted if other not in modules]


def given_to_others(name: str, bundles: Bundles) -> list[str]:
    """What the other scripts take of this one."""
    own = bundles.scripts[name]
    others = [module for other, modules in bundles.scripts.items() if other != name for module in modules]
    everywhere = [module for modules in bundles.scripts.values() for module in modules]
    wanted = {
        *(one for module in others for one in imports_of(module)),
        *(one for module in everywhere for one in asked_later(module)),
    }
    return [bundles.names[module] for module in own if module in wanted]


def imports_of(module: Path) -> list[Path]:
    """The modules that a module imports at once."""
    return [(module.parent / found["path"]).resolve() for found in import_statements(module)]


def import_statements(module: Path) -> list[re.Match]:
    """Where a module imports something at once."""
    text = module.read_text(encoding="utf-8")
    return [*IMPORT.finditer(text), *PASSED_ON.finditer(text)]


def taken_by(statement: re.Match) -> list[tuple[str, str]]:
    """What it imports: the name that the other module exports, and the one that it has here."""
    default = statement.groupdict().get("default")
    return [("default", default)] if default else pairs(statement["names"])


def body(module: Path, bundles: Bundles) -> str:
    """The module's text as a function's, which gives back what the module exports."""
    text = PASSED_ON.sub(taken_and_given, module.read_text(encoding="utf-8"))
    exports = [found["name"] for found in DECLARED.finditer(text)]
    listed = [name for found in LISTED.finditer(text) for name in pairs(found["names"])]
    text = IMPORT.sub(lambda found: imported(module, found, bundles), text)
    text = LISTED.sub("", DECLARED.sub(lambda found: f"{found['kind']} {found['name']}", text))
    has_default = bool(DEFAULT.search(text))
    text = DEFAULT.sub("const theDefault = ", text)
    if left := UNKNOWN.search(LATER.sub("", text)):
        raise NotBundled(f"{module.name}: {left.group()[:60]}")
    text = LATER.sub(lambda found: brought(module, found, bundles), text)
    all_given = [
        *((name, name) for name in exports),
        *listed,
        *([("theDefault", "default")] if has_default else []),
    ]
    given = [f"{called}:{inner}" for inner, outer in all_given if (called := bundles.exported(module, outer))]
    return f"{text}\nreturn{{{','.join(given)}}};"


def taken_and_given(found: re.Match) -> str:
    """`export { a as b } from` as the import and the export that it is."""
    taken = ", ".join(inner for inner, _outer in pairs(found["names"]))
    return f'import {{{taken}}} from "{found["path"]}";\nexport {{{found["names"]}}};'


def imported(module: Path, found: re.Match, bundles: Bundles) -> str:
    """An import as a constant taken from what the other module gave back."""
    other = (module.parent / found["path"]).resolve()
    names = ",".join(f"{bundles.exported(other, outer)}:{inner}" for outer, inner in taken_by(found))
    return f"const {{{names}}}={bundles.names[other]};"


def brought(module: Path, found: re.Match, bundles: Bundles) -> str:
    """A module that is asked for later as what its script has of it."""
    other = (module.parent / found["path"]).resolve()
    return f'import("./{bundles.script_of(other)}"+again).then((script)=>script.{bundles.names[other]})'


def pairs(names: str) -> list[tuple[str, str]]:
    """`a, b as c` as [("a", "a"), ("b", "c")]."""
    found = [re.split(r"\s+as\s+", name.strip()) for name in names.split(",") if name.strip()]
    return [(name[0], name[-1]) for name in found]
