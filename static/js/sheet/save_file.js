/* What isn't received, saved as a file for the office, in case the phone can't send it. */

import { parcelOf } from "../offline/parcel.js";
import { el } from "./elements.js";
import { phone } from "./phone_data.js";
import { say } from "./words.js";

/* The seals among these that the server has not named as received. */
export function unsentOf(seals) {
  return seals.filter(({ state }) => state !== "received");
}

/* A button that saves these seals with their photos as one file. */
export function saveButton(seals, name) {
  const save = async () => {
    const address = URL.createObjectURL(await parcelOf(seals, phone.organisation?.id ?? null));
    const file = `${say("unsent_file", { name: name.replace(/[^\w-]+/g, "_") })}.shankline`;
    const link = el("a", { href: address, download: file });
    document.body.append(link); // some browsers follow only a link that is on the page
    link.click();
    link.remove();
    setTimeout(() => URL.revokeObjectURL(address), 60_000);
  };
  return el("button", { type: "button", class: "button quiet", onclick: save }, say("save_as_file"));
}
