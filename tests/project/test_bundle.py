"""One script out of several modules: it does what they do, and what it can't read fails the build."""

import json

import pytest

from project.bundle import NotBundled, bundled, pairs
from tests.twins import STATIC

MODULES = {
    "main.js": """// the first
import { twice, Box as Crate } from "./sums.js";
import DATA from "./data.js";
import { half } from "./passed.js";
const box = new Crate(twice(DATA.length));
globalThis.came = [box.held, half(9), `a  b // c`, /[/*] x/.test("* x"), "http://x"];
""",
    "sums.js": """/** Doubles. */
export function twice(number) { return 2 * number; }
export class Box { constructor(held) { this.held = held; } }
const hidden = 7;
""",
    "data.js": 'export default ["one", "two"];\n',
    "passed.js": 'export { halve as half } from "./halves.js";\n',
    "halves.js": "const halve = (number) => number / 2;\nexport { halve };\n",
}


@pytest.fixture
def root(tmp_path):
    for name, text in MODULES.items():
        (tmp_path / name).write_text(text)
    return tmp_path


def test_the_bundle_does_what_the_modules_do(root, twins_page):
    script = bundled(root, root / "main.js")

    run = f"() => {{ {script}; return globalThis.came; }}"
    came = twins_page(lambda page: page.context.browser.new_page().evaluate(run))

    assert came == [4, 4.5, "a  b // c", True, "http://x"]
    assert "Doubles" not in script


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("main.js", 'import * as sums from "./sums.js";\n', "import \\* as sums"),
        ("main.js", 'export * from "./sums.js";\n', "export \\*"),
        ("main.js", "export let count = 0;\n", "export let"),
        ("main.js", 'import { x } from "./nowhere.js";\n', "nowhere.js, which isn't there"),
        ("main.js", 'import { x } from "../outside.js";\n', "outside.js, which isn't there"),
        ("sums.js", 'import { x } from "./main.js";\n', "imports itself"),
    ],
)
def test_what_it_cannot_put_together_fails_the_build(root, name, text, says):
    (root / name).write_text(text)

    with pytest.raises(NotBundled, match=says):
        bundled(root, root / "main.js")


def test_names_are_read_with_and_without_as():
    assert pairs(" a, b as c,\n d ") == [("a", "a"), ("b", "c"), ("d", "d")]


def test_the_phones_own_modules_go_into_one():
    script = bundled(STATIC, STATIC / "js" / "sheet" / "main.js")

    assert len(json.dumps(script)) > 50_000
    assert "import " not in script.replace("import.meta", "")[:200]
