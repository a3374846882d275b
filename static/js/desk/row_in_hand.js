/**
 * The row in hand. A figure thickens its dimension on the drawing beside it, under the pointer or chosen with its
 * name; the one row that was chosen also offers the question to the clinic. Names become buttons only here, because
 * without this module there would be nothing for them to do.
 */

/** The row's own shell: a page may hold two. */
const drawingOf = (row) => row.closest(".shell").querySelector(".drawing");

const dimensionsOf = (row) =>
  row.dataset.dimension ? drawingOf(row).querySelectorAll(`[data-of="${row.dataset.dimension}"]`) : [];

const isChosen = (row) => row.classList.contains("chosen");

/** Takes a row in hand, or lets go of it. */
function take(row, inHand) {
  row.classList.toggle("in-hand", inHand);
  for (const dimension of dimensionsOf(row)) dimension.classList.toggle("fg-strong", inHand);
}

/** Chooses a row, or lets go of the choice. */
function choose(row, chosen) {
  row.classList.toggle("chosen", chosen);
  row.querySelector("button.row-name").setAttribute("aria-pressed", String(chosen));
  take(row, chosen);
}

function makeButton(row) {
  const name = row.querySelector(".row-name");
  const button = document.createElement("button");
  button.type = "button";
  button.className = name.className;
  button.setAttribute("aria-pressed", "false");
  button.append(...name.childNodes);
  name.replaceWith(button);
  return button;
}

function listen(row, root) {
  makeButton(row).addEventListener("click", () => {
    const chosen = !isChosen(row);
    for (const other of root.querySelectorAll(".chosen")) choose(other, false);
    choose(row, chosen);
  });
  row.addEventListener("pointerenter", () => take(row, true));
  row.addEventListener("pointerleave", () => take(row, isChosen(row)));
}

/** The form that stands in a row goes again without leaving the page. */
function putAway(event) {
  const place = event.target.closest(".ask-not")?.closest(".ask-place");
  if (!place) return;
  event.preventDefault();
  place.replaceChildren();
  place.closest(".askable").querySelector("button.row-name").focus();
}

/** Only what was asked for goes into the page. For anything else, signing in or a changed order, its page is opened. */
function openElsewhere(event) {
  const { xhr, pathInfo } = event.detail;
  const asked = new URL(pathInfo.finalRequestPath, location.href);
  if (xhr.status === 200 && new URL(xhr.responseURL).pathname === asked.pathname) return;
  event.detail.shouldSwap = false;
  location.assign(asked);
}

/** Attends to the rows within `part` that stand on the drawing or may be asked about; others stay as they are. */
function attendRows(part, root) {
  for (const row of part.querySelectorAll(".askable")) {
    if (row.querySelector("button.row-name")) continue;
    if (dimensionsOf(row).length || row.querySelector(".ask-button")) listen(row, root);
  }
}

/** Attends to the rows of `root`, and to those that come into it later. */
export function attend(root) {
  attendRows(root, root);
  root.addEventListener("htmx:load", (event) => attendRows(event.detail.elt, root));
  root.addEventListener("click", putAway);
  root.addEventListener("htmx:beforeSwap", openElsewhere);
}

attend(document);
