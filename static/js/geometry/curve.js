// A smooth curve through points that never swings past them, flat beyond its ends.
// Twin: orders/reckoning/curve.py, which tells the method and its source.

/** A function of the place, through the points (places strictly increasing). */
export function curveThrough(places, values) {
  const steps = places.slice(1).map((place, at) => place - places[at]);
  if (!places.length || places.length !== values.length || steps.some((step) => !(step > 0)))
    throw new RangeError(`places is ${places}; they must be strictly increasing, with a value each`);
  const slopes = slopesOf(
    steps,
    steps.map((step, at) => (values[at + 1] - values[at]) / step),
  );
  const last = places.length - 1;
  return (place) => {
    if (place <= places[0]) return values[0];
    if (place >= places[last]) return values[last];
    const at = places.findIndex((start) => start > place) - 1;
    const step = places[at + 1] - places[at];
    const u = (place - places[at]) / step;
    const v = 1 - u;
    const fromValues = values[at] * (1 + 2 * u) * v * v + values[at + 1] * (1 + 2 * v) * u * u;
    const fromSlopes = slopes[at] * u * v * v - slopes[at + 1] * v * u * u;
    return fromValues + fromSlopes * step;
  };
}

function slopesOf(steps, chords) {
  if (chords.length < 2) return chords.length ? [chords[0], chords[0]] : [0];
  const end = chords.length - 1;
  const inside = chords.slice(1).map((chord, at) => insideSlope(steps[at], steps[at + 1], chords[at], chord));
  return [
    endSlope(steps[0], steps[1], chords[0], chords[1]),
    ...inside,
    endSlope(steps[end], steps[end - 1], chords[end], chords[end - 1]),
  ];
}

function insideSlope(before, after, chordBefore, chordAfter) {
  if (chordBefore * chordAfter <= 0) return 0;
  const weightBefore = 2 * after + before;
  const weightAfter = after + 2 * before;
  return (weightBefore + weightAfter) / (weightBefore / chordBefore + weightAfter / chordAfter);
}

/** The three-point slope, kept from turning back or from swinging past. */
function endSlope(near, far, chordNear, chordFar) {
  const slope = ((2 * near + far) * chordNear - near * chordFar) / (near + far);
  if (slope * chordNear <= 0) return 0;
  if (chordNear * chordFar <= 0 && Math.abs(slope) > 3 * Math.abs(chordNear)) return 3 * chordNear;
  return slope;
}
