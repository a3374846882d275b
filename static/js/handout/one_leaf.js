/**
 * One leaf of the handout at a time. Without this module the page is one long page, and the same links lead
 * through it; with it they turn the leaves. The address says which leaf, so that the phone's own back works.
 */

const WHOLE = "everything";
const ONE = "one";

const leaves = [...document.querySelectorAll(".leaf")];
const [toWhole, toOne] = ["#all-leaves", "#one-leaf"].map((id) => document.querySelector(id));

function show(anchor) {
  const here = leaves.find((leaf) => leaf.id === anchor) ?? leaves[0];
  for (const leaf of leaves) leaf.classList.toggle("here", leaf === here);
  return here;
}

function lay(whole) {
  document.documentElement.classList.toggle("one-leaf", !whole);
  toWhole.hidden = whole;
  toOne.hidden = !whole;
}

function turn() {
  const anchor = location.hash.slice(1);
  if (anchor === "main") return;
  if (anchor === WHOLE || anchor === ONE) lay(anchor === WHOLE);
  const here = show(anchor);
  if (toOne.hidden || anchor === WHOLE) scrollTo(0, 0);
  here.querySelector("h1, h2").focus({ preventScroll: true });
}

lay(location.hash.slice(1) === WHOLE);
show(location.hash.slice(1));
addEventListener("hashchange", turn);
