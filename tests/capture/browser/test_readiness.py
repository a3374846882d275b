"""What Visits says of this phone: what it lacks, and what its browser has cleared."""

GONE = """async (missing) => {
  const { gone } = await import("/static/testbuild/js/sheet/readiness.js");
  document.querySelector("main").replaceChildren(gone(missing, () => {}));
  return [...document.querySelectorAll(".gone li")].map((row) => row.innerText.split("\\n"));
}"""


def test_what_was_cleared_is_told_below_whose_it_was(phone):
    """Initials have a full stop of their own, or there are none: no sentence ends with them."""
    missing = [{"id": "a", "reference": "NF-0147", "initials": "L. H."}]

    def walk(one):
        one.open()
        return one.page.evaluate(GONE, missing)

    assert phone(walk) == [["NF-0147 L. H.", "The server has nothing of it. Measure it again."]]
