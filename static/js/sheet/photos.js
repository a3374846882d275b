/* The photos' half of the view: a row for each wanted view, with an example until there is a photo. */

import { sealsOf } from "../offline/seal.js";
import { readBytes } from "../offline/store.js";
import { keepNow } from "./drafts.js";
import { drawn, el, fill } from "./elements.js";
import { pictures } from "./later.js";
import { measureIn } from "./measure_photo.js";
import { noted, takenIn, takenOut } from "./photo_intake.js";
import { fieldOf, lengthInWords } from "./photo_places.js";
import { say } from "./words.js";

const VIEWS = ["front", "side", "knee", "foot"];

export class PhotosControl {
  constructor(view) {
    this.view = view;
    this.addresses = [];
    this.setAside = new Set();
    this.says = el("p", { class: "says", role: "alert", id: "photo-says" });
    this.working = el("p", { class: "second", role: "status" });
    this.told = el("div", { class: "told" }, this.says, this.working);
    this.places = el("ul", { class: "photo-places" });
    this.element = el("div", { class: "photos" }, this.told, this.places);
    view.signal.addEventListener("abort", () => this.letGo());
    this.build();
    this.learnSetAside();
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

  // Which photos the server has set aside since they can't be opened.
  async learnSetAside() {
    const { id, member } = this.view.draft;
    const told = (await sealsOf(id, member)).flatMap(({ receipt }) => receipt?.photos ?? []);
    this.setAside = new Set(told.filter(({ state }) => state === "set_aside").map(({ sha256 }) => sha256));
    if (this.setAside.size && !this.view.signal.aborted) this.build();
  }

  build() {
    this.letGo();
    const of = (view) => this.photos.filter((photo) => photo.view === view);
    fill(
      this.places,
      VIEWS.map((view) => (of(view).length ? of(view).map((photo) => this.place(view, photo)) : this.place(view))),
      of("free").map((photo) => this.place("free", photo)),
      this.place("free"),
    );
    if (this.saidAt) this.tellAt(this.saidAt);
  }

  // What is said about a photo stands at its view's place.
  tellAt(view) {
    this.saidAt = view;
    [...this.places.querySelectorAll(`[data-view="${view}"] .photo-words`)].at(-1).append(this.told);
  }

  place(view, photo = null) {
    const name = say(`view_${view}`);
    const set = photo && this.setAside.has(photo.sha256);
    return el(
      "li",
      { class: photo ? "photo-place has-photo" : "photo-place", "data-view": view },
      photo ? this.picture(photo, name) : this.example(view),
      el(
        "div",
        { class: "photo-words" },
        el("span", { class: "name" }, name),
        set && el("span", { class: "second attention" }, say("photo_was_set_aside")),
        photo?.measured && el("span", { class: "second" }, this.measuredWords(photo.measured)),
        el("span", { class: "ways" }, this.ways(view, photo, name)),
      ),
    );
  }

  // The camera is offered where there likely is one at hand: on a phone.
  ways(view, photo, name) {
    const id = `photo-${view}${photo ? `-${photo.sha256.slice(0, 8)}` : ""}`;
    return [
      this.way(`${id}-camera`, { capture: "environment" }, photo ? "take_again" : "take_photo", { view, photo, name }),
      this.way(id, { multiple: view === "free" && !photo }, "choose_photo", { view, photo, name }),
      photo && this.doing("measure_in", name, () => this.measure(photo, name)),
      photo && this.doing("remove_photo", name, () => this.remove(photo)),
    ];
  }

  doing(words, name, onclick) {
    const label = `${say(words)}: ${name}`;
    return el("button", { type: "button", class: "button quiet", "aria-label": label, onclick }, say(words));
  }

  measuredWords(measured) {
    return say("measured_in", { what: fieldOf(measured.what).label, read: lengthInWords(measured) });
  }

  way(id, more, words, { view, photo, name }) {
    const input = el("input", {
      type: "file",
      accept: "image/*",
      class: "unseen",
      id,
      "aria-label": `${say(words)}: ${name}`,
      onclick: () => keepNow(),
      onchange: () => this.taken(input, view, photo),
      ...more,
    });
    const label = el("label", { class: photo ? "button quiet" : "button", for: id, "aria-hidden": "true" }, say(words));
    return el("span", { class: more.capture ? "way by-camera" : "way" }, input, label);
  }

  example(view) {
    const picture = pictures.here.examplePicture(view, this.view.situation);
    const place = el("span", { class: picture ? "example" : "example none", "aria-hidden": "true" });
    if (picture) this.view.turns.afterFrame(`example of ${view}`, () => fill(place, drawn(picture())));
    return place;
  }

  picture(photo, name) {
    const place = el("span", { class: "example" });
    const image = el("img", { alt: say("photo_of", { view: name }), width: 100, height: 132 });
    image.addEventListener("error", () => fill(place, el("span", { class: "small" }, say("photo_not_shown"))));
    this.addressOf(photo).then((address) => {
      image.src = address;
    });
    return fill(place, image);
  }

  // From this phone's own bytes; of a photo that another phone sent, the server's.
  async addressOf({ sha256 }, size = 320) {
    const bytes = await readBytes(sha256);
    if (!bytes) return `/photos/${sha256}/${size}`;
    const address = URL.createObjectURL(new Blob([bytes]));
    this.addresses.push(address);
    return address;
  }

  where(view, before) {
    const { draft } = this.view;
    return { draft, side: draft.answers.side, view, before };
  }

  /* Takes what was chosen, one after the other. The place stays as it was when the choosing began. */
  async taken(input, view, before) {
    const files = [...input.files];
    const where = this.where(view, before);
    this.says.textContent = "";
    this.tellAt(view);
    const says = [];
    for (const file of files) {
      this.working.textContent = say("photo_working");
      says.push(await takenIn(file, where));
    }
    this.working.textContent = "";
    this.says.textContent = says.filter(Boolean).join(" ");
    input.value = "";
    this.refresh();
  }

  /* Opens the photo to be measured in; the places are kept as they are put. */
  async measure(photo, name) {
    const where = this.where();
    const { situation, signal } = this.view;
    const kept = async (measured) => {
      await noted(photo, where, { measured: measured ?? undefined, placing: undefined });
      this.refresh();
    };
    const note = (placing) => noted(photo, where, { placing });
    try {
      await measureIn({ photo, name, address: await this.addressOf(photo, 1600), situation, signal, note, kept });
    } catch {
      this.says.textContent = say("photo_not_shown");
      this.tellAt(photo.view);
    }
  }

  async remove(photo) {
    await takenOut(photo, this.where());
    this.says.textContent = "";
    this.refresh();
  }

  refresh() {
    if (this.view.signal.aborted) return;
    this.build();
    this.view.refresh();
  }
}
