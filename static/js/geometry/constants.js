// Twin of the tables in orders/reckoning/constants.py, which names their sources; a test holds them equal.

export const BOTTOM_EDGE_T = 0.1;
export const WIDEST_T = 0.7;

/** t, girth as a share of the widest, depth over breadth. */
export const GIRTH_PROFILE = [
  [0.05, 0.6837, 1.402],
  [0.1, 0.6019, 1.357],
  [0.15, 0.5853, 1.309],
  [0.2, 0.6029, 1.255],
  [0.25, 0.628, 1.224],
  [0.3, 0.6616, 1.204],
  [0.35, 0.7035, 1.2],
  [0.4, 0.7454, 1.202],
  [0.45, 0.8034, 1.176],
  [0.5, 0.8693, 1.15],
  [0.55, 0.9271, 1.103],
  [0.6, 0.9695, 1.078],
  [0.65, 0.9921, 1.063],
  [0.7, 1, 1.07],
  [0.75, 0.9889, 1.066],
  [0.8, 0.9667, 1.08],
  [0.85, 0.9491, 1.149],
  [0.9, 0.9536, 1.226],
  [0.95, 0.9683, 1.242],
  [1, 0.979, 1.236],
];

/** Share of the finished length below the top, mm in front of the pylon's axis at a girth of FRONT_LINE_GIRTH_MM. */
export const FRONT_LINE = [
  [0, 46],
  [0.06, 48.5],
  [0.14, 49.5],
  [0.3, 48],
  [0.5, 44.5],
  [0.7, 41],
  [0.85, 40],
  [0.95, 41.5],
  [1, 43],
];
export const FRONT_LINE_GIRTH_MM = 385;
export const KNEE_AXIS_X_MM = -6;
