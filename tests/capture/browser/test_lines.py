"""The small line drawings: the phone draws what the page's own markup has, and asks for none that isn't there."""

import re

from capture.line_marks import LINE_MARKS, line_mark
from tests.twins import STATIC

DRAWN = """async () => {
  const { line } = await import("/static/testbuild/js/sheet/lines.js");
  const { sheet } = await import("/static/testbuild/js/sheet/words.js");
  return Object.keys(sheet.lines).map((name) => [name, line(name).outerHTML]);
}"""


def test_both_draw_the_same(phone):
    def walk(one):
        one.open()
        return dict(one.page.evaluate(DRAWN))

    drawn = phone(walk)

    # a browser writes an empty element with an end tag
    assert drawn == {name: str(line_mark(name)).replace("/></svg>", "></path></svg>") for name in LINE_MARKS}


def test_none_is_asked_for_that_is_not_there():
    scripts = [file.read_text(encoding="utf-8") for file in (STATIC / "js" / "sheet").glob("*.js")]
    asked = {name for text in scripts for name in re.findall(r'\bline\("(\w+)"\)', text)}

    assert asked == set(LINE_MARKS)
