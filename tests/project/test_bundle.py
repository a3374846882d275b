"""One script out of several modules: it does what they do, and what it can't read fails the build."""

from urllib.parse import urlsplit

import brotli
import pytest

from project.build import ALL_CALLED
from project.bundle import FIRST, NotBundled, bundled, pairs, split
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
    scripts = bundled(root, root / "main.js")

    run = f"() => {{ {scripts[FIRST]}; return globalThis.came; }}"
    came = twins_page(lambda page: page.context.browser.new_page().evaluate(run))

    assert list(scripts) == [FIRST]
    assert came == [4, 4.5, "a  b // c", True, "http://x"]
    assert "Doubles" not in scripts[FIRST]


def test_exports_go_by_letters_and_what_nobody_takes_by_none(root):
    script = bundled(root, root / "main.js")[FIRST]

    assert not any(name in script for name in ("twice", "Box:", "halve", "half"))
    (root / "sums.js").write_text(MODULES["sums.js"].replace("const hidden", "export const hidden"))
    assert bundled(root, root / "main.js")[FIRST] == script


def test_a_script_may_ask_to_be_compiled_at_once(root):
    plain = bundled(root, root / "main.js")[FIRST]

    assert bundled(root, root / "main.js", at_once={FIRST}) == {
        FIRST: f"//# allFunctionsCalledOnLoad\n{plain}"
    }
    with pytest.raises(NotBundled, match=r"not there: bundle-none\.js"):
        bundled(root, root / "main.js", at_once={FIRST, "bundle-none.js"})


# Two that are asked for later and share something; one that shares nothing; what the first has, they take from it.
LATER = {
    "main.js": """import { count, seen } from "./counted.js";
const again = "";
const one = () => import("./one.js" + again);
const other = async () => (await import("./other.js" + again)).name();
globalThis.bring = async () => [(await one()).name(), await other(), (await import("./two.js" + again)).name(), seen()];
count("main");
""",
    "counted.js": """const names = [];
export const count = (name) => names.push(name);
export const seen = () => names.join(" ");
""",
    "one.js": """import { count } from "./counted.js";
import { shared } from "./shared.js";
count("one");
export const name = () => `one ${shared()}`;
""",
    "two.js": """import { shared } from "./shared.js";
export const name = () => `two ${shared()}`;
""",
    "other.js": """import { count } from "./counted.js";
count("other");
export const name = () => "other";
""",
    "shared.js": """let times = 0;
export const shared = () => (times += 1);
""",
}


@pytest.fixture
def parted(tmp_path):
    for name, text in LATER.items():
        (tmp_path / name).write_text(text)
    return tmp_path


def run_served(browser, scripts: dict, cut: list | None = None):
    """A page that has loaded the first script; the first request for each address in `cut` fails."""
    page = browser.new_page()
    left = list(cut or [])

    def served(route):
        name = urlsplit(route.request.url).path.lstrip("/")
        if name in left:
            left.remove(name)
            route.abort()
        elif name in scripts:
            route.fulfill(body=scripts[name], content_type="text/javascript")
        else:
            route.fulfill(body="<!doctype html><title>parts</title>", content_type="text/html")

    page.route("**/*", served)
    page.goto("https://parts.invalid/")
    page.add_script_tag(type="module", url=f"/{FIRST}")
    page.wait_for_function("() => Boolean(globalThis.bring)")
    return page


def test_later_scripts_share_what_the_first_has_and_what_they_share(parted, twins_page):
    scripts = bundled(parted, parted / "main.js")

    came = twins_page(lambda page: run_served(page.context.browser, scripts).evaluate("bring()"))

    assert list(scripts) == [FIRST, "bundle-one.js", "bundle-other.js"]
    assert came == ["one 1", "other", "two 2", "main one other"]


def test_what_a_later_script_has_is_not_in_the_first(parted):
    scripts = bundled(parted, parted / "main.js")

    assert "other" not in scripts[FIRST].replace("bundle-other.js", "")
    assert sum("one ${" in script for script in scripts.values()) == 1


def test_a_later_script_that_did_not_come_is_had_at_the_next_address(parted, twins_page):
    """Some browsers keep a module that failed as failed; another query is another module to them."""
    main = parted / "main.js"
    main.write_text(
        main.read_text().replace(
            'const again = "";', "let again = '';globalThis.anew = () => (again = '?try=1');"
        )
    )
    scripts = bundled(parted, main)

    def tried(page):
        page = run_served(page.context.browser, scripts, cut=["bundle-one.js"])
        failed = page.evaluate("bring().catch(() => 'failed')")
        page.evaluate("anew()")
        return [failed, page.evaluate("bring()")]

    assert twins_page(tried) == ["failed", ["one 1", "other", "two 2", "main one other"]]


@pytest.mark.parametrize(
    ("name", "text", "says"),
    [
        ("main.js", 'import * as sums from "./sums.js";\n', "import \\* as sums"),
        ("main.js", 'export * from "./sums.js";\n', "export \\*"),
        ("main.js", "export let count = 0;\n", "export let"),
        ("main.js", 'import { x } from "./nowhere.js";\n', "nowhere.js, which isn't there"),
        ("main.js", 'import { x } from "../outside.js";\n', "outside.js, which isn't there"),
        ("sums.js", 'import { x } from "./main.js";\n', "imports itself"),
        ("main.js", 'const x = () => import("./sums.js");\n', 'import\\("./sums.js"\\)'),
        ("main.js", "const x = (name) => import(name + again);\n", "import\\(name"),
        ("main.js", "const x = () => import(`./sums.js` + again);\n", "import\\(`"),
        ("main.js", 'const x = () => import("./nowhere.js" + again);\n', "nowhere.js, which isn't there"),
        (
            "main.js",
            'import { x } from "./sums.js";\nconst y = () => import("./sums.js" + again);\n',
            "later for sums.js, which is imported at once",
        ),
    ],
)
def test_what_it_cannot_put_together_fails_the_build(root, name, text, says):
    (root / name).write_text(text)

    with pytest.raises(NotBundled, match=says):
        bundled(root, root / "main.js")


def test_names_are_read_with_and_without_as():
    assert pairs(" a, b as c,\n d ") == [("a", "a"), ("b", "c"), ("d", "d")]


@pytest.fixture(scope="module")
def phones() -> dict[str, str]:
    """The phone's own scripts."""
    return bundled(STATIC, STATIC / "js" / "sheet" / "main.js", at_once=ALL_CALLED)


def compressed(script: str) -> int:
    return len(brotli.compress(script.encode(), quality=11))


def test_the_phones_first_script_stays_small(phones):
    """31 kB: what a thin link (1.6 Mbit/s) brings in 155 ms."""
    assert 15_000 < compressed(phones[FIRST]) <= 31_000


def test_all_of_the_phones_scripts_stay_small(phones):
    assert sum(map(compressed, phones.values())) <= 90_000


def test_each_of_the_phones_modules_is_in_one_script():
    scripts = split(STATIC, STATIC / "js" / "sheet" / "main.js").scripts

    modules = [module for script in scripts.values() for module in script]

    assert len(modules) == len(set(modules)) > 90
    assert len(scripts) > 4
