/* The drawings of the phone's views, made by the figure from the answers as they stand. Each is laid out for the
   place where it will stand, so that its lettering keeps its size. */

import { draw, layOut } from "../figure/leg.js";
import { choice } from "../figure/choices.js";
import { guide, sceneOf } from "../figure/scene.js";
import { wantedView } from "../figure/views.js";
import { reckoning } from "./later.js";
import { phone } from "./phone_data.js";
import { say } from "./words.js";

const CHOICE_PX = [132, 92];
const EXAMPLE_PX = [100, 132];
const LEAST_PX = [120, 160];
/* Smaller, the names beside a leg and the numbers on it have no room. */
const LEAST_GUIDE_PX = [190, 160];
const LEAST_TO_SCALE_PX = [340, 280];

/* The room of a place, [width, height], never less than a drawing can be read in. */
export function roomOf(place) {
  return [Math.max(place.clientWidth, LEAST_PX[0]), Math.max(place.clientHeight, LEAST_PX[1])];
}

const USUAL_TEXT_PX = 16;
const SIZE = / width="([\d.]+)" height="([\d.]+)"/;

/* SVG text of the scene that `sceneFor(fit)` makes for a place, whose lettering grows with the person's text: laid out for
   a place smaller by as much, and shown as large as its place. Not so far that the leg could no more be read. */
function lettered([width, height], least, sceneFor) {
  const text = parseFloat(getComputedStyle(document.documentElement).fontSize) / USUAL_TEXT_PX;
  const times = Math.max(1, Math.min(text, width / least[0], height / least[1]));
  const scene = sceneFor([width / times, height / times]);
  return scene && { scene, svg: () => draw(scene).replace(SIZE, (_size, ...px) => ` width="${px[0] * times}" height="${px[1] * times}"`) };
}

/* The guide drawing of a field, {svg, caption}, or null where it has none. Where the pins are to be counted, what the knee
   is called draws none of them: that may be a card's word, and the drawing would answer for the eye. */
export function guidePicture(field, { entry: told, result, catalogue }, fit) {
  const entry = field.key === "knee.pivots_seen" ? { ...told, knee: { ...told.knee, named: null } } : told;
  const picture = field.drawing && lettered(fit, LEAST_GUIDE_PX, (room) => guide(field.drawing, entry, result, catalogue, { fit: room }));
  if (!picture) return null;
  const side = entry.side && say(entry.side);
  return { svg: picture.svg(), caption: side ? say(`caption_${picture.scene.view}`, { side }) : "" };
}

/* What makes the small drawing of one answer, as SVG text, or null where it has none. */
export function choicePicture({ field, situation }, value) {
  const scene = choice(field.key, value, situation.entry, situation.catalogue, { fit: CHOICE_PX });
  return scene && (() => draw(scene));
}

/* What makes the example of a wanted photo, as SVG text, or null where any view will do. */
export function examplePicture(view, { entry, catalogue }) {
  const scene = wantedView(view, entry, catalogue, { fit: EXAMPLE_PX });
  return scene && (() => draw(scene));
}

const LEAST_FOR_ALL = 360; // px: narrower, the flags would cover figures
const MOST_TALL = 1.15; // of a width: taller, two views side by side stand in an empty field
const OF_WORKSHOP = ["upper_strap", "strap_spacing", "lower_strap"];
const MARK_PX = [84, 84];

/* The place of one mark, near, as SVG text: "apex", "rim" or "calf". */
export function markPicture(mark, { entry, result, catalogue }) {
  const options = { fit: MARK_PX };
  if (mark === "calf") return draw({ ...guide("marks.calf", entry, result, catalogue, options), title: "" });
  return draw(wantedView(mark === "apex" ? "knee" : "foot", entry, catalogue, options));
}

/* The shell to scale with its flags, all that is known of it dimensioned: {svg, whole}. In pencil, and not yet `whole`,
   while its length or its girth isn't read, or no workshop is chosen: where the straps lie is the workshop's to say.
   `bears` says of a flag whether it stands there. */
export function scalePicture({ entry, result, catalogue, workshop }, width, height = width, bears = () => true) {
  const { scene, svg } = lettered([width, Math.min(height, MOST_TALL * width)], LEAST_TO_SCALE_PX, (fit) => {
    const dims = fit[0] < LEAST_FOR_ALL ? "few" : "all";
    return sceneOf(entry, result, catalogue, { purpose: "scale", view: "both", dims, fit });
  });
  const whole = typeof result?.finished_length_mm === "number" && typeof result.girth_mm === "number";
  scene.flags = scene.flags.filter(({ n }) => bears(result.flags[n - 1]));
  if (!whole || !workshop) scene.shell.state = "pencil";
  if (!workshop) scene.dims = scene.dims.filter(({ of }) => !OF_WORKSHOP.includes(of));
  return { svg: svg(), whole };
}

const OTHER_SIDE = { left: "right", right: "left" };
/* Where a face's places stand on the drawing from the side, in front of the pylon's axis. [mm] */
const FACE_X_MM = { front: 46, rear: -46, outer: 0, inner: 0 };

/* The leg from the side for the places of one face, the inner one as seen from within: {svg, scale, place(mm)}. A place
   so far below the apex lies at so many hundredths of the picture's width and height; `apex` and `height` are in px. */
export function facePicture(face, { entry, result, catalogue }, fit) {
  const scene = sceneOf(entry, result, catalogue, { purpose: "choice", view: "side", fit });
  if (face === "inner") scene.side = OTHER_SIDE[scene.side];
  Object.assign(scene, { title: "", shell: { ...scene.shell, state: "none" } });
  const { width, height, scale, panels } = layOut(scene);
  const { x0, y0, way } = panels[0];
  const x = x0 + way * scale * FACE_X_MM[face];
  const left = (100 * (scene.side === "right" ? width - x : x)) / width;
  return { svg: draw(scene), scale, apex: y0, height, place: (mm) => [left, (100 * (y0 + scale * mm)) / height] };
}

/* The small leg of a row, as SVG text: pencilled while a draft. */
export function rowPicture({ entry, result, catalogue }, state) {
  const scene = sceneOf(entry, result, catalogue, { purpose: "mark", view: "side" });
  if (state === "draft") scene.shell.state = "pencil";
  return draw(scene);
}

/* The small leg of an order that the server holds, of the side that is asked about, as SVG text. */
export function orderPicture(order, side) {
  const entry = order.entries.find((one) => one.side === side) ?? order.entries[0];
  const catalogue = phone.workshops.find(({ id }) => id === order.workshop_id)?.catalogue ?? null;
  const mayReckon = phone.book && catalogue && reckoning.here;
  const result = mayReckon ? reckoning.here.reckon(entry, catalogue, phone.book, null) : null;
  return rowPicture({ entry, result, catalogue }, "sent");
}
