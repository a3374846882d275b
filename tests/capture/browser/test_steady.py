"""A list that is shown again and again: what stays is the same element in its place, and the focus stays with it."""

import pytest

# Shows one list after the other; gives the texts, which elements stayed, how many were put in, and what has the focus.
SHOWN = """async (module, [before, after, focused]) => {
  const { refill, Steady } = module;
  const list = document.createElement("ul");
  document.body.replaceChildren(list);
  const steady = new Steady();
  const row = ([name, words]) =>
    steady.of(name, words, () => {
      const item = document.createElement("li");
      const link = document.createElement("a");
      link.href = `#${name}`;
      link.textContent = words;
      item.append(link);
      return item;
    });
  const show = (rows) => {
    refill(list, rows.map(row));
    steady.shown();
    return [...list.children];
  };
  const first = show(before);
  list.querySelector(`a[href="#${focused}"]`)?.focus();
  let put = 0;
  const watching = new MutationObserver((changes) => { for (const one of changes) put += one.addedNodes.length; });
  watching.observe(list, { childList: true });
  const second = show(after);
  await null;
  for (const one of watching.takeRecords()) put += one.addedNodes.length;
  const stayed = second.filter((item) => first.includes(item)).map((item) => item.textContent);
  return [second.map((item) => item.textContent), stayed, put, document.activeElement.textContent];
}"""
ROWS = [["a", "one"], ["b", "two"], ["c", "three"]]


@pytest.mark.parametrize(
    ("after", "shown", "stayed", "put", "focus"),
    [
        pytest.param(ROWS, ["one", "two", "three"], ["one", "two", "three"], 0, "two", id="the same"),
        pytest.param(
            [["a", "one"], ["b", "2"], ["c", "three"]], ["one", "2", "three"], ["one", "three"], 1, "2",
            id="the row in hand says something else",
        ),
        pytest.param(
            [["b", "two"], ["c", "three"], ["a", "one"]], ["two", "three", "one"], ["two", "three", "one"], 1, "two",
            id="the first becomes the last",
        ),
        pytest.param(
            [["c", "three"], ["a", "one"], ["b", "two"]], ["three", "one", "two"], ["three", "one", "two"], None,
            "two", id="the last becomes the first",
        ),
        pytest.param(
            [["d", "four"], ["b", "two"]], ["four", "two"], ["two"], 1, "two", id="some go, one comes",
        ),
    ],
)  # fmt: skip
def test_only_what_changed_is_put_in_anew(js, after, shown, stayed, put, focus):
    told = js("sheet/steady.js").evaluate(SHOWN, [ROWS, after, "b"])

    assert told[0] == shown
    assert told[1] == stayed
    assert put is None or told[2] == put
    assert told[3] == focus
