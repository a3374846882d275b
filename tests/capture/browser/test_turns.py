"""What is shown piece by piece: each in a task of its own, of one name only the latest, none once its view has ended."""

# Takes in turn what `names` tells, [name, what it does] each, and gives what was done, and in how many tasks. The view
# ends after so many tasks.
TAKEN = """async (module, [names, ends]) => {
  const view = new AbortController();
  const turns = new module.Turns(view.signal);
  const done = [];
  let task = 0;
  for (const [name, does] of names)
    turns.take(name, () => {
      done.push([does, task]);
      if (does === "breaks") throw new Error("a piece that can't be shown");
    });
  for (; task < 10; task += 1) {
    if (task === ends) view.abort();
    await new Promise((resolve) => setTimeout(resolve));
  }
  return [done.map(([does]) => does), new Set(done.map(([, at]) => at)).size];
}"""
# The same of one that is to come after a frame: what was done before the frame, and once it was painted.
AFTER_FRAME = """async (module, ends) => {
  const view = new AbortController();
  const turns = new module.Turns(view.signal);
  const done = [];
  turns.afterFrame("a", () => done.push("a"));
  if (ends) view.abort();
  await Promise.resolve();
  const before = [...done];
  await new Promise((resolve) => requestAnimationFrame(resolve));
  done.push("frame");
  for (let tasks = 0; tasks < 3; tasks += 1) await new Promise((resolve) => setTimeout(resolve));
  return [before, done];
}"""


def test_each_in_a_task_of_its_own_in_their_order(js):
    done, tasks = js("sheet/turns.js").evaluate(TAKEN, [[["a", "one"], ["b", "two"], ["c", "three"]], None])

    assert (done, tasks) == (["one", "two", "three"], 3)


def test_of_one_name_only_the_latest(js):
    done, _ = js("sheet/turns.js").evaluate(TAKEN, [[["a", "old"], ["b", "two"], ["a", "new"]], None])

    assert done == ["new", "two"]


def test_one_that_breaks_holds_up_no_other(js):
    done, _ = js("sheet/turns.js").evaluate(TAKEN, [[["a", "breaks"], ["b", "two"]], None])

    assert done == ["breaks", "two"]


def test_none_once_the_view_has_ended(js):
    done, _ = js("sheet/turns.js").evaluate(TAKEN, [[["a", "one"], ["b", "two"]], 0])

    assert done == []


def test_after_a_frame_comes_after_it(js):
    assert js("sheet/turns.js").evaluate(AFTER_FRAME, False) == [[], ["frame", "a"]]


def test_after_a_frame_but_not_once_the_view_has_ended(js):
    assert js("sheet/turns.js").evaluate(AFTER_FRAME, True) == [[], ["frame"]]
