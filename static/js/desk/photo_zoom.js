/**
 * A photo, looked at from near: two fingers, the wheel, keys, buttons, a double tap. Without this module the photo
 * fills its place and the browser's own zoom does the rest.
 */

const MOST = 6;
const STEP = 1.5;
const KEYS = {
  "+": (look) => look.by(STEP),
  "=": (look) => look.by(STEP),
  "-": (look) => look.by(1 / STEP),
  0: (look) => look.whole(),
  ArrowLeft: (look) => look.move(60, 0),
  ArrowRight: (look) => look.move(-60, 0),
  ArrowUp: (look) => look.move(0, 60),
  ArrowDown: (look) => look.move(0, -60),
};

const within = (least, value, most) => Math.min(most, Math.max(least, value));

/** A place of the picture that never leaves an edge of its frame bare. Lengths in px; `scale` 1 is the whole. */
export function placed({ scale, x, y }, frame) {
  const size = within(1, scale, MOST);
  return {
    scale: size,
    x: within(frame.width * (1 - size), x, 0),
    y: within(frame.height * (1 - size), y, 0),
  };
}

/** The picture `times` as large, with what lies under `at` staying there. */
export function enlarged(place, times, at, frame) {
  const scale = within(1, place.scale * times, MOST);
  const grown = scale / place.scale;
  return placed({ scale, x: at.x - (at.x - place.x) * grown, y: at.y - (at.y - place.y) * grown }, frame);
}

class Look {
  constructor(view, says) {
    this.view = view;
    this.picture = view.querySelector("img");
    this.says = says;
    this.fingers = new Map();
    this.show({ scale: 1, x: 0, y: 0 });
  }

  get frame() {
    return this.view.getBoundingClientRect();
  }

  get middle() {
    return { x: this.frame.width / 2, y: this.frame.height / 2 };
  }

  show(place) {
    this.place = place;
    this.picture.style.transform = `translate(${place.x}px, ${place.y}px) scale(${place.scale})`;
    this.view.classList.toggle("larger", place.scale > 1);
    if (this.says) this.says.textContent = `${Math.round(place.scale * 100)} %`;
  }

  by(times, at = this.middle) {
    this.show(enlarged(this.place, times, at, this.frame));
  }

  move(x, y) {
    this.show(placed({ ...this.place, x: this.place.x + x, y: this.place.y + y }, this.frame));
  }

  whole() {
    this.show({ scale: 1, x: 0, y: 0 });
  }

  /** Where an event happened, from the frame's corner. */
  at(event) {
    return { x: event.clientX - this.frame.left, y: event.clientY - this.frame.top };
  }

  /** One finger moves the picture; of two, how far they have parted and where they lie. */
  finger(event) {
    const before = this.fingers.get(event.pointerId);
    if (!before) return;
    const now = this.at(event);
    const other = [...this.fingers].find(([id]) => id !== event.pointerId)?.[1];
    this.fingers.set(event.pointerId, now);
    if (!other) return this.move(now.x - before.x, now.y - before.y);
    const apart = (one) => Math.hypot(one.x - other.x, one.y - other.y) || 1;
    this.by(apart(now) / apart(before), { x: (now.x + other.x) / 2, y: (now.y + other.y) / 2 });
  }
}

/** Listens within a frame and to the buttons around it. */
export function attend(root) {
  const view = root.querySelector(".photo-view");
  if (!view) return;
  const look = new Look(view, root.querySelector("[data-zoom='says']"));
  const buttons = { in: () => look.by(STEP), out: () => look.by(1 / STEP), whole: () => look.whole() };
  for (const button of root.querySelectorAll("[data-zoom]")) {
    button.hidden = false;
    button.addEventListener("click", buttons[button.dataset.zoom] ?? (() => {}));
  }
  view.classList.add("zooms");
  look.picture.draggable = false;
  view.addEventListener("keydown", (event) => {
    if (!KEYS[event.key] || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    KEYS[event.key](look);
  });
  view.addEventListener("wheel", (event) => {
    event.preventDefault();
    look.by(Math.exp(-event.deltaY / 300), look.at(event));
  }, { passive: false });
  view.addEventListener("dblclick", (event) => (look.place.scale > 1 ? look.whole() : look.by(2.5, look.at(event))));
  view.addEventListener("pointerdown", (event) => {
    view.setPointerCapture(event.pointerId);
    look.fingers.set(event.pointerId, look.at(event));
  });
  view.addEventListener("pointermove", (event) => look.finger(event));
  for (const end of ["pointerup", "pointercancel"]) {
    view.addEventListener(end, (event) => look.fingers.delete(event.pointerId));
  }
}

attend(document);
