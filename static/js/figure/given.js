// What an entry says about the leg, read for drawing; a field that can't be read is as good as not given.
// Twin of orders/figure/given.py.
import FIGURE from "../../figures/leg.js";
import { understand } from "../reading/typed.js";

const RANGE_MM = FIGURE.drawn_range_mm;

/** The value at a dotted path; null where there is none. */
export function fieldOf(entry, path) {
  let value = entry;
  for (const key of path.split(".")) value = value !== null && typeof value === "object" ? value[key] ?? null : null;
  return value;
}

/** The measurement at a dotted path, {mm, unit}; of several readings the last. */
export function typedOf(entry, path) {
  let text = fieldOf(entry, path);
  const unit = entry.units || "mm";
  if (Array.isArray(text)) text = text.length ? text[text.length - 1] : null;
  if (typeof text !== "string") return { mm: null, unit };
  const plain = text.trim();
  const below = plain.startsWith("-") || plain.startsWith("−");
  // No quantity has the name "", so nothing is asked about: this only draws.
  const read = understand(below ? plain.slice(1) : plain, unit, "");
  if (read.outcome !== "value") return { mm: null, unit };
  return { mm: below ? -read.mm : read.mm, unit: read.unit };
}

/** The value at a dotted path if a leg can be drawn with it, in mm. Half a number ("4" of "42") must not turn the
 *  leg inside out while it is being typed. */
export const measuredMm = (entry, path) => drawable(typedOf(entry, path).mm, path.split(".").pop());

/** The value, unless it lies outside what the figure can show, in mm. */
export function drawable(value, name) {
  const [least, most] = RANGE_MM[name] || [0, 700];
  return typeof value === "number" && least <= value && value <= most ? value : null;
}

/** One pin, several or unsure: as seen; where that wasn't said, as the knee's name has it. */
export function pinsOf(entry) {
  const seen = fieldOf(entry, "knee.pivots_seen");
  if (seen === "one" || seen === "several") return seen;
  const named = { single_axis: "one", polycentric: "several" }[fieldOf(entry, "knee.named") || ""];
  return named || seen || "one";
}

/** A catalogue's option by its key; empty where there is none. */
export function optionOf(catalogue, listName, key) {
  const rows = (catalogue || {})[listName] || [];
  return rows.find((row) => row.key === key) || {};
}

/** The catalogue's numbers of the chosen rear, top, wall and straps. */
export function shellNumbers(entry, catalogue) {
  const rear = optionOf(catalogue, "rears", fieldOf(entry, "shell.rear"));
  const top = optionOf(catalogue, "tops", fieldOf(entry, "shell.top"));
  const wall = optionOf(catalogue, "walls", fieldOf(entry, "shell.wall"));
  return {
    reach: rear.reach ?? null,
    open_share: rear.open_share ?? null,
    relief_mm: top.relief_mm ?? null,
    wall_mm: wall.wall_mm ?? null,
    strap_width_mm: fieldOf(catalogue || {}, "strap.width_mm"),
    buckle_side: fieldOf(entry, "shell.buckle_side") || "outer",
  };
}
