/** Bearings and turns on the plane: degrees clockwise from north, points in metres east and north. */

export type Point = readonly [east: number, north: number];

const FULL_TURN_DEG = 360;

/** Degrees clockwise from north, 0 up to 360, of the way from one point to another; NaN where they are one. */
export function bearingDeg(from: Point, to: Point): number {
  const east = to[0] - from[0];
  const north = to[1] - from[1];
  if (east === 0 && north === 0) return Number.NaN;
  return wrapDeg((Math.atan2(east, north) * 180) / Math.PI);
}

/** Distance between two points. [m] */
export function distance(from: Point, to: Point): number {
  return Math.hypot(to[0] - from[0], to[1] - from[1]);
}

/** The point at a bearing and a distance. */
export function pointAt(from: Point, bearing_deg: number, length_m: number): Point {
  const angle = (bearing_deg * Math.PI) / 180;
  return [from[0] + length_m * Math.sin(angle), from[1] + length_m * Math.cos(angle)];
}

/** Turn from one bearing to the next: right is positive, over -180 up to 180 degrees. */
export function turnDeg(before_deg: number, after_deg: number): number {
  const turn = wrapDeg(after_deg - before_deg);
  return turn > 180 ? turn - FULL_TURN_DEG : turn;
}

/** An angle brought to 0 up to 360 degrees. */
export function wrapDeg(angle_deg: number): number {
  const wrapped = angle_deg % FULL_TURN_DEG;
  const positive = wrapped < 0 ? wrapped + FULL_TURN_DEG : wrapped;
  return positive === FULL_TURN_DEG ? 0 : positive;
}
