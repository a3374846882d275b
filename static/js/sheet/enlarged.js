/* A drawing, opened large. */

import { el } from "./elements.js";
import { say } from "./words.js";

/* Opens a copy of the drawing over the whole screen until it is closed. */
export function enlarged(drawing, label) {
  const close = el("button", { type: "button", class: "button" }, say("close"));
  const dialog = el("dialog", { class: "enlarged", "aria-label": label }, drawing.cloneNode(true), close);
  close.addEventListener("click", () => dialog.close());
  dialog.addEventListener("close", () => dialog.remove());
  document.body.append(dialog);
  dialog.showModal();
}
