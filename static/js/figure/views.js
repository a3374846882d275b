// Examples of the photos that are wanted: each view as it should be taken, with the dots of tape in it.
// Twin of orders/figure/views.py.
import FIGURE from "../../figures/leg.js";
import { overlaid, sceneOf } from "./scene.js";

/** The scene of one wanted view (front, side, knee, foot), of the leg as it was answered; null for another view. */
export function wantedView(view, entry, catalogue = null, { fit = null } = {}) {
  const row = FIGURE.wanted[view];
  if (!row) return null;
  const scene = overlaid(sceneOf(entry, null, catalogue, { purpose: "choice", view: row.view, fit }), row);
  return Object.assign(scene, { length_mm: null, girth_mm: null, gap_mm: null, title: "" });
}
