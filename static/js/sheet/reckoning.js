/* What reckons, as one thing that may come later. */

export { photoLength } from "../geometry/homography.js";
export { reckon } from "../book/reckon.js";
export { besideOf } from "./beside.js";
