/* What reckons, as one thing that may come later. */

export { photoLength } from "../geometry/homography.js";
export { sureChecks } from "../book/sure.js";
export { reckon } from "../book/reckon.js";
export { besideOf } from "./beside.js";
