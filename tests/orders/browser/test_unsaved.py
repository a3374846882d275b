import pytest

PAGE = """(module, [unsaved, act]) => {
  document.body.innerHTML = `<form ${unsaved ? "data-unsaved" : ""}><input><button>Save</button></form>`;
  const form = document.querySelector("form");
  const page = new EventTarget();
  module.attend(form, page);
  form.addEventListener("submit", (event) => event.preventDefault());
  const does = {
    type: () => form.querySelector("input").dispatchEvent(new Event("input", { bubbles: true })),
    send: () => form.requestSubmit(),
  };
  for (const step of act) does[step]();
  const leaving = new Event("beforeunload", { cancelable: true });
  page.dispatchEvent(leaving);
  return leaving.defaultPrevented;
}"""


@pytest.mark.parametrize(
    ("unsaved", "act", "asks"),
    [
        (False, [], False),
        (False, ["type"], True),
        (True, [], True),
        (False, ["type", "send"], False),
        (True, ["send"], False),
        (True, ["send", "type"], True),
    ],
)
def test_a_page_is_left_without_asking_unless_something_typed_would_be_lost(js, unsaved, act, asks):
    assert js("desk/unsaved.js").evaluate(PAGE, [unsaved, act]) is asks
