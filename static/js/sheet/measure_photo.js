/* Measures in a photo, over the whole screen: six places to drag, and below it what lies under the one in hand, large.

   A place is taken where it is near, else the one in hand goes to where the picture is touched. In the large view the
   picture moves under the cross; a tap there brings what was tapped to the cross. Arrow keys move it as well. */

import { drawn, el, fill } from "./elements.js";
import { line } from "./lines.js";
import { fieldOf, heldAgainstTape, lengthInWords, MEASURES, measuredOf, placeName, placesOf, SHEETS } from "./photo_places.js";
import { say } from "./words.js";

const NEAR_PX = 22; // a target of 44 px
const TAP_PX = 5;
const LARGE = 2500; // CSS px in the large view for the photo's longer side
const STEPS = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] };

function picture(kind, address, [width, height]) {
  return drawn(`<svg class="measure-${kind}" viewBox="0 0 ${width} ${height}" aria-hidden="true" focusable="false">
    <image href="${address}" width="${width}" height="${height}"/><g></g></svg>`);
}

/* Sheet, length and places as markup; `px` is how many of the photo's pixels one on the screen is. */
function marks({ corners, ends, put }, inHand, px) {
  const round = corners.map((place) => place.join()).join(" ");
  const along = ends.map((place) => place.join()).join(" ");
  const places = [...corners, ...ends].map(([x, y], number) => {
    const kind = `place${number === inHand ? " in-hand" : ""}${put.includes(number) ? "" : " not-put"}`;
    const size = (number === inHand ? 15 : 10) * px;
    return `<circle class="halo" cx="${x}" cy="${y}" r="${size}"/><circle class="${kind}" cx="${x}" cy="${y}" r="${size}"/>`;
  });
  return `<polygon class="halo" points="${round}"/><polygon class="round" points="${round}"/>
    <polyline class="edge" points="${along}"/><polyline class="along" points="${along}"/>${places.join("")}`;
}

class PhotoMeasure {
  constructor({ photo, name, address, size, situation, note, kept }) {
    Object.assign(this, { size, situation, note, kept });
    this.placing = placesOf(photo, size);
    this.inHand = Math.max(0, [0, 1, 2, 3, 4, 5].findIndex((number) => !this.placing.put.includes(number)));
    this.stage = picture("stage", address, size);
    this.large = picture("large", address, size);
    this.large.append(...drawn('<svg><path class="halo" d=""/><path class="cross" d=""/></svg>').children);
    this.pickers = [0, 1, 2, 3, 4, 5].map((number) => this.picker(number));
    this.says = el("p", { class: "strong measure-says", role: "status" });
    this.dialog = this.built(name, Boolean(photo.measured));
    this.listen();
  }

  built(name, before) {
    const label = `${say("measure_in_photo")}, ${name}`;
    const close = () => this.dialog.close();
    return el(
      "dialog",
      { class: "enlarged measuring", "aria-label": label },
      el("div", { class: "measure-head" }, this.wayBack(close), el("h2", {}, say("measure_in_photo"))),
      this.stage,
      el("div", { class: "pickers", role: "group", "aria-label": say("place_in_hand") }, this.pickers),
      this.large,
      el("div", { class: "measure-of" }, this.choice("what", Object.keys(MEASURES), (what) => fieldOf(what).label), this.choice("sheet", SHEETS, (one) => say(`sheet_${one}`))),
      this.says,
      el("p", { class: "small" }, el("strong", {}, say("measure_check")), " ", say("measure_plane")),
      el("div", { class: "measure-foot" }, before && this.button(say("drop_measure"), "quiet", () => this.end(null)), this.button(say("keep_measure"), "next", () => this.keep())),
    );
  }

  wayBack(onclick) {
    return el("button", { type: "button", class: "back", "aria-label": say("close"), onclick }, line("back"));
  }

  button(words, kind, onclick) {
    return el("button", { type: "button", class: `button ${kind}`, onclick }, words);
  }

  picker(number) {
    const take = () => {
      this.inHand = number;
      this.show();
    };
    return el("button", { type: "button", class: "picker", onclick: take, onfocus: take, onkeydown: (event) => this.key(event) });
  }

  choice(key, values, words) {
    const options = values.map((value) => el("option", { value, selected: value === this.placing[key] }, words(value)));
    const select = el("select", { class: "input", id: `measure-${key}` }, options);
    select.addEventListener("change", () => {
      this.placing[key] = select.value;
      this.moved();
    });
    return el("p", { class: "field" }, el("label", { for: select.id }, say(`measure_${key}`)), select);
  }

  open(signal) {
    signal.addEventListener("abort", () => this.dialog.close());
    this.dialog.addEventListener("close", () => {
      this.watching.disconnect();
      this.dialog.remove();
    });
    document.body.append(this.dialog);
    this.dialog.showModal();
    this.watching = new ResizeObserver(() => this.show());
    this.watching.observe(this.stage);
    this.pickers[this.inHand].focus();
  }

  get place() {
    const { corners, ends } = this.placing;
    return this.inHand < 4 ? corners[this.inHand] : ends[this.inHand - 4];
  }

  /* Puts the place in hand, within the photo, to the tenth of a pixel. */
  put(to) {
    to.forEach((part, axis) => {
      this.place[axis] = Math.round(10 * Math.min(this.size[axis], Math.max(0, part))) / 10;
    });
    if (!this.placing.put.includes(this.inHand)) this.placing.put.push(this.inHand);
    this.show();
  }

  /* The change is kept once the finger lets go. */
  moved() {
    this.note(structuredClone(this.placing));
    this.show();
  }

  key(event) {
    const step = STEPS[event.key];
    if (!step) return;
    event.preventDefault();
    const by = (Math.max(...this.size) / 2000) * (event.shiftKey ? 10 : 1);
    this.put(this.place.map((part, axis) => part + by * step[axis]));
    this.moved();
  }

  /* Pixels of the photo to one on the screen, in either picture. */
  pxOf(svg) {
    return 1 / (svg.getScreenCTM()?.a || 1);
  }

  listen() {
    this.drag(this.stage, (from) => {
      const near = this.nearest(from);
      if (near !== null) this.inHand = near;
      const [x, y] = near === null ? from : [...this.place];
      if (near === null) this.put(from);
      return (to) => [x + to[0] - from[0], y + to[1] - from[1]];
    });
    this.drag(this.large, (from) => {
      const [x, y] = this.place;
      return (to, wasTap) => (wasTap ? from : [x + from[0] - to[0], y + from[1] - to[1]]);
    });
  }

  /* `begun(from)` gives where the place in hand belongs while the finger is at a place of the photo. */
  drag(svg, begun) {
    svg.addEventListener("pointerdown", (down) => {
      if (!down.isPrimary) return;
      down.preventDefault();
      svg.setPointerCapture(down.pointerId);
      const inverse = svg.getScreenCTM().inverse(); // the large view moves while it is dragged
      const seen = ({ clientX, clientY }) => {
        const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(inverse);
        return [x, y];
      };
      const belongs = begun(seen(down));
      const move = (event) => this.put(belongs(seen(event), false));
      const end = (event) => {
        svg.removeEventListener("pointermove", move);
        const tapped = Math.hypot(event.clientX - down.clientX, event.clientY - down.clientY) < TAP_PX;
        if (tapped && event.type === "pointerup") this.put(belongs(seen(event), true));
        this.moved();
        this.pickers[this.inHand].focus({ preventScroll: true });
      };
      svg.addEventListener("pointermove", move);
      for (const name of ["pointerup", "pointercancel"]) svg.addEventListener(name, end, { once: true });
      this.show();
    });
  }

  /* The place that is touched: that in hand before another that is nearer. */
  nearest([x, y]) {
    const places = [...this.placing.corners, ...this.placing.ends];
    const far = places.map(([px, py]) => Math.hypot(px - x, py - y));
    const near = NEAR_PX * this.pxOf(this.stage);
    if (far[this.inHand] <= near) return this.inHand;
    const least = Math.min(...far);
    return least <= near ? far.indexOf(least) : null;
  }

  show() {
    const { what, put } = this.placing;
    this.stage.querySelector("g").innerHTML = marks(this.placing, this.inHand, this.pxOf(this.stage));
    this.showLarge();
    this.pickers.forEach((picker, number) => {
      const name = placeName(what, number);
      const place = number < 4 ? this.placing.corners[number] : this.placing.ends[number - 4];
      const [x, y] = place.map(Math.round);
      fill(picker, number < 4 ? String(number + 1) : name);
      picker.setAttribute("aria-pressed", String(number === this.inHand));
      picker.classList.toggle("not-put", !put.includes(number));
      picker.setAttribute("aria-label", put.includes(number) ? say("place_at", { name, x, y }) : say("place_not_put", { name }));
    });
    const left = 6 - put.length;
    this.says.classList.remove("says");
    this.says.textContent = left ? say("places_left", { left }) : heldAgainstTape(this.placing, this.situation);
  }

  showLarge() {
    const px = Math.max(...this.size) / LARGE;
    const { clientWidth, clientHeight } = this.large;
    const [wide, high] = [clientWidth * px, clientHeight * px];
    const [x, y] = this.place;
    this.large.setAttribute("viewBox", `${x - wide / 2} ${y - high / 2} ${wide} ${high}`);
    const open = 5 * px;
    const cross = `M${x - wide} ${y}H${x - open}M${x + open} ${y}H${x + wide}M${x} ${y - high}V${y - open}M${x} ${y + open}V${y + high}`;
    for (const line of this.large.querySelectorAll("path")) line.setAttribute("d", cross);
  }

  /* Only what gives a length is kept as measured; the places stay in any case. */
  keep() {
    const missing = [0, 1, 2, 3, 4, 5].find((number) => !this.placing.put.includes(number));
    if (missing === undefined && lengthInWords(this.placing)) return this.end(measuredOf(this.placing));
    this.pickers[missing ?? this.inHand].focus();
    this.says.classList.add("says");
  }

  end(measured) {
    this.kept(measured);
    this.dialog.close();
  }
}

/* Opens the measuring over a photo whose picture is at `address`; `note(placing)` keeps the places so far, and
   `kept(measured)` what was measured, null to leave it out. Ends with `signal`. */
export async function measureIn({ address, signal, ...about }) {
  const image = new Image();
  image.src = address;
  await image.decode();
  if (signal.aborted) return;
  const size = [image.naturalWidth, image.naturalHeight];
  new PhotoMeasure({ ...about, address, size }).open(signal);
}
