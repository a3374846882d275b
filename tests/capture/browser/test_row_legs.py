"""The small legs on Visits: each drawn once for what it shows, one in a task, and the old one stands until then."""

# Places rows' legs as told, [name, what it shows], round after round; gives for each what the places hold at once and
# at its end, besides what was drawn, and whether each was in a task of its own. The view may end first.
PLACED = """async (module, [rounds, ends]) => {
  const { RowLegs } = module;
  const view = new AbortController();
  const legs = new RowLegs(view.signal);
  const made = [];
  let task = 0;
  const drawn = (name, shows) => () => {
    made.push([`${name} ${shows}`, task]);
    if (shows === "broken") throw new Error("a leg that can't be drawn");
    const leg = document.createElement("i");
    leg.textContent = shows;
    return leg;
  };
  const told = [];
  for (const round of rounds) {
    const places = round.map(([name, shows]) => legs.place(name, shows, drawn(name, shows)));
    const words = () => places.map((place) => place.textContent);
    const atOnce = words();
    if (ends) view.abort();
    for (let tasks = 0; tasks < 10; tasks += 1) {
      await new Promise((done) => setTimeout(done));
      task += 1;
    }
    told.push([atOnce, words()]);
  }
  return [told, made.map(([what]) => what), new Set(made.map(([, at]) => at)).size === made.length];
}"""


def test_one_in_a_task_and_each_once_for_what_it_shows(js):
    rows = [["a", "one"], ["b", "two"], ["c", "three"]]
    again = [["a", "one"], ["b", "2"], ["c", "three"]]

    told, made, one_by_one = js("sheet/row_legs.js").evaluate(PLACED, [[rows, again], False])

    assert told[0] == [["", "", ""], ["one", "two", "three"]]
    assert told[1] == [["one", "two", "three"], ["one", "2", "three"]]
    assert made == ["a one", "b two", "c three", "b 2"]
    assert one_by_one


def test_a_leg_that_cannot_be_drawn_holds_up_no_other(js):
    told, made, _ = js("sheet/row_legs.js").evaluate(PLACED, [[[["a", "broken"], ["b", "two"]]], False])

    assert told == [[["", ""], ["", "two"]]]
    assert made == ["a broken", "b two"]


def test_none_is_drawn_after_the_view_has_ended(js):
    told, made, _ = js("sheet/row_legs.js").evaluate(PLACED, [[[["a", "one"], ["b", "two"]]], True])

    assert (told, made) == ([[["", ""], ["", ""]]], [])
