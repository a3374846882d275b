/* The drawings of the phone's views, made by the figure from the answers as they stand. */

import { draw } from "../figure/leg.js";
import { choice, guide, sceneOf } from "../figure/scene.js";
import { say } from "./words.js";

/* The guide drawing of a field, {svg, caption}, or null where it has none. */
export function guidePicture(field, { entry, result }) {
  if (!field.drawing) return null;
  const scene = guide(field.drawing, entry, result);
  if (!scene) return null;
  const side = say(scene.side === "right" ? "right" : "left");
  return { svg: draw(scene), caption: say(`caption_${scene.view}`, { side }) };
}

/* The small drawing of one answer, as SVG text, or null. */
export function choicePicture({ field, situation }, value) {
  const scene = choice(field.key, value, situation.entry, situation.catalogue);
  return scene ? draw(scene) : null;
}

/* The shell to scale with its flags, {svg}, or null while its length or girth isn't known. */
export function scalePicture({ entry, result, catalogue }, flags) {
  if (typeof result?.finished_length_mm !== "number" || typeof result.girth_mm !== "number") return null;
  const scene = sceneOf(entry, result, catalogue, { purpose: "scale", view: "both" });
  return { svg: draw({ ...scene, flags: flags.map(({ n, level, at }) => ({ n, level, at })) }) };
}

/* The small leg of a row, as SVG text: pencilled while a draft. */
export function rowPicture(draft, state) {
  const pencil = state === "draft";
  return draw({
    view: "side", purpose: "mark", side: draft.answers.side ?? "left", title: "",
    shell: { state: pencil ? "pencil" : "ink" },
  });
}
