/**
 * The figure in hand thickens its dimension on the drawing beside it: under the pointer, or chosen with its name,
 * which becomes a button here because without this module there would be nothing for it to do.
 */

/** The row's own shell: a page may hold two. */
const drawingOf = (row) => row.closest(".shell").querySelector(".drawing");

const dimensionsOf = (row) => drawingOf(row).querySelectorAll(`[data-of="${row.dataset.dimension}"]`);

function take(row, inHand) {
  row.classList.toggle("in-hand", inHand);
  for (const dimension of dimensionsOf(row)) dimension.classList.toggle("fg-strong", inHand);
}

function makeButton(row) {
  const name = row.querySelector(".figure-name");
  const button = document.createElement("button");
  button.type = "button";
  button.className = "figure-name";
  button.setAttribute("aria-pressed", "false");
  button.append(...name.childNodes);
  name.replaceWith(button);
  return button;
}

function listen(row) {
  const button = makeButton(row);
  const chosen = () => button.getAttribute("aria-pressed") === "true";
  row.addEventListener("pointerenter", () => take(row, true));
  row.addEventListener("pointerleave", () => take(row, chosen()));
  button.addEventListener("click", () => {
    button.setAttribute("aria-pressed", String(!chosen()));
    take(row, chosen());
  });
}

/** Makes the figures within `root` take their dimensions in hand; those without one on the drawing stay as they are. */
export function attend(root) {
  for (const row of root.querySelectorAll(".figure-row[data-dimension]")) {
    if (dimensionsOf(row).length) listen(row);
  }
}

attend(document);
