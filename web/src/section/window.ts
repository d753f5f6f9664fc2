/** Which part of a line the long section shows: pure, so that zoom and pan can be tested without a page. */

/** Stations along the drawn section between which it is shown. [m] */
export interface Shown {
  low: number;
  high: number;
}

/** No part shorter than this is shown. [m] */
const LEAST_M = 5;

/** A part held inside a line of some length; all of it where the part would be longer. */
export function heldInside(shown: Shown, length_m: number): Shown {
  const wide = Math.min(Math.max(shown.high - shown.low, Math.min(LEAST_M, length_m)), length_m);
  const low = Math.min(Math.max(0, shown.low), length_m - wide);
  return { low, high: low + wide };
}

/** The part with another length, a station keeping its place on the screen. */
export function zoomedAbout(shown: Shown, station_m: number, factor: number, length_m: number): Shown {
  const wide = shown.high - shown.low;
  // held first, so that a zoom that has come to its end does not begin to pan
  const held = Math.min(Math.max(wide * factor, Math.min(LEAST_M, length_m)), length_m) / wide;
  const low = station_m - (station_m - shown.low) * held;
  return heldInside({ low, high: low + wide * held }, length_m);
}

/** The part of a length that has a station at a share of its width. */
export function placedAt(station_m: number, share: number, wide_m: number, length_m: number): Shown {
  const wide = Math.min(Math.max(wide_m, Math.min(LEAST_M, length_m)), length_m);
  return heldInside({ low: station_m - share * wide, high: station_m + (1 - share) * wide }, length_m);
}

/** How many times longer a part a turned wheel shows; a pinch on a trackpad comes as small turns with Ctrl. */
export function wheelFactor(turned_px: number, isPinch: boolean): number {
  return Math.exp(Math.max(-1, Math.min(1, turned_px / (isPinch ? 80 : 300))));
}
