/* The photos' half of the view: a place for each wanted view, with an example until there is a photo. Bytes are read
   at once, shrunk, named by their hash as they will be sent, and kept on this phone. */

import { draw } from "../figure/leg.js";
import { guide } from "../figure/scene.js";
import { sha256Of } from "../offline/seal.js";
import { keepBytes, readBytes } from "../offline/store.js";
import { answer, keepNow } from "./drafts.js";
import { drawn, el, fill } from "./elements.js";
import { shrunk, TooLarge } from "./shrink.js";
import { say } from "./words.js";

const VIEWS = ["front", "side", "knee", "foot"];
const EXAMPLES = { front: "side", side: "side", knee: "knee.pivots_seen", foot: "foot.profile" };
const EXAMPLE_PX = [132, 120];

/* The drawing of a wanted view, as SVG text. */
export function examplePicture(view, { entry, result, catalogue }) {
  const scene = guide(EXAMPLES[view], { side: "left", ...entry }, result ?? {}, catalogue, { fit: EXAMPLE_PX });
  return draw({ ...scene, view: view === "front" ? "front" : "side", title: "" });
}

export class PhotosControl {
  constructor(view) {
    this.view = view;
    this.addresses = [];
    this.says = el("p", { class: "says", role: "alert", id: "photo-says" });
    this.places = el("ul", { class: "photo-places" });
    this.element = el("div", { class: "photos" }, this.says, this.places);
    view.signal.addEventListener("abort", () => this.letGo());
    this.build();
  }

  get photos() {
    return this.view.draft.answers.photos ?? [];
  }

  focus() {
    this.view.heading.focus({ preventScroll: true });
  }

  ready() {
    return true;
  }

  show() {}

  letGo() {
    for (const address of this.addresses) URL.revokeObjectURL(address);
    this.addresses = [];
  }

  build() {
    this.letGo();
    const free = this.photos.filter(({ view }) => view === "free");
    fill(
      this.places,
      VIEWS.map((view) =>
        this.place(
          view,
          this.photos.find((photo) => photo.view === view),
        ),
      ),
      free.map((photo) => this.place("free", photo)),
      this.place("free", null),
    );
  }

  place(view, photo) {
    const name = say(`view_${view}`);
    const id = `photo-${view}${photo ? `-${photo.sha256.slice(0, 8)}` : ""}`;
    const input = el("input", {
      type: "file",
      accept: "image/*",
      class: "unseen",
      id,
      onclick: () => keepNow(),
      onchange: () => this.taken(input, view, photo),
    });
    return el(
      "li",
      { class: photo ? "photo-place has-photo" : "photo-place" },
      input,
      photo ? this.picture(photo, name) : this.example(view),
      el("span", { class: "name" }, name),
      el(
        "span",
        { class: "ways" },
        el(
          "label",
          { class: photo ? "button quiet" : "button", for: id },
          photo ? say("take_again") : say("take_photo", { view: name }),
        ),
        photo &&
          el(
            "button",
            {
              type: "button",
              class: "button quiet",
              "aria-label": `${say("remove_photo")}: ${name}`,
              onclick: () => this.remove(photo),
            },
            say("remove_photo"),
          ),
      ),
    );
  }

  example(view) {
    if (view === "free") return el("span", { class: "example" });
    const drawing = drawn(examplePicture(view, this.view.situation));
    return el("span", { class: "example", "aria-hidden": "true" }, drawing);
  }

  picture(photo, name) {
    const image = el("img", { alt: say("photo_of", { view: name }), width: 132, height: 120 });
    this.addressOf(photo).then((address) => {
      image.src = address;
    });
    return el("span", { class: "example" }, image);
  }

  // From this phone's own bytes; of a photo that another phone sent, the server's.
  async addressOf({ sha256 }) {
    const bytes = await readBytes(sha256);
    if (!bytes) return `/photos/${sha256}/320`;
    const address = URL.createObjectURL(new Blob([bytes], { type: "image/jpeg" }));
    this.addresses.push(address);
    return address;
  }

  async taken(input, view, before) {
    const [file] = input.files;
    if (!file) return;
    this.tell(say("photo_working"));
    try {
      await this.add(file, view, before);
    } catch (fault) {
      this.tell(this.faultWords(fault, file));
    }
    input.value = "";
  }

  faultWords(fault, file) {
    if (fault instanceof TooLarge) return say("photo_too_large");
    if (fault.name === "NotAPicture") return say("photo_no_picture", { name: file.name });
    return say("photo_not_kept", { fault: fault.message });
  }

  async add(file, view, before) {
    const bytes = await shrunk(await file.arrayBuffer());
    const sha256 = await sha256Of(bytes);
    const same = this.photos.find((photo) => photo.sha256 === sha256);
    if (same) return this.tell(say("photo_twice", { view: say(`view_${same.view}`) }));
    await keepBytes(sha256, bytes);
    const photo = { sha256, bytes: bytes.byteLength, view, entry: 0 };
    const others = this.photos.filter((one) => one !== before);
    return this.keep([...others, photo]);
  }

  remove(photo) {
    this.keep(this.photos.filter((one) => one !== photo));
  }

  keep(photos) {
    answer(this.view.draft, this.view.field, photos);
    this.tell("");
    this.build();
    this.view.refresh();
    return keepNow();
  }

  tell(words) {
    this.says.textContent = words;
  }
}
