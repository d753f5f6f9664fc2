/** The scales of the long section: stations across, elevations up, with the exaggeration stated. */

export interface Extent {
  low: number;
  high: number;
}

export interface SectionScale {
  across: (station_m: number) => number;
  up: (elevation_m: number) => number;
  stationAt: (x: number) => number;
  elevationAt: (y: number) => number;
  /** Pixels of a metre of station, and of a metre of height. */
  across_per_m: number;
  up_per_m: number;
  /** How many times heights are drawn larger than lengths. */
  exaggeration: number;
}

export interface Frame {
  left: number;
  top: number;
  width: number;
  height: number;
}

/** A metre of height is drawn at most so large: a post of a flat site does not fill a tall frame. [pixels] */
const MOST_UP_PX = 160;

/** The scale that fits stations and elevations in a frame, whatever exaggeration that asks for: it is told beside it. */
export function sectionScale(stations: Extent, elevations: Extent, frame: Frame): SectionScale {
  const length = Math.max(stations.high - stations.low, 1e-6);
  const rise = Math.max(elevations.high - elevations.low, 0.5);
  const across_per_m = frame.width / length;
  const up_per_m = Math.min(frame.height / rise, Math.max(across_per_m, MOST_UP_PX));
  const middle = (elevations.high + elevations.low) / 2;
  const centre = frame.top + frame.height / 2;
  return {
    across: (station_m) => frame.left + (station_m - stations.low) * across_per_m,
    up: (elevation_m) => centre - (elevation_m - middle) * up_per_m,
    stationAt: (x) => stations.low + (x - frame.left) / across_per_m,
    elevationAt: (y) => middle - (y - centre) / up_per_m,
    across_per_m,
    up_per_m,
    exaggeration: up_per_m / across_per_m,
  };
}

/** Round steps for an axis: about so many, each 1, 2 or 5 times a power of ten. */
export function axisSteps(extent: Extent, wanted: number): number[] {
  const span = extent.high - extent.low;
  if (!(span > 0) || wanted < 1) return [];
  const rough = span / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = ([1, 2, 5, 10].find((each) => each * power >= rough) ?? 10) * power;
  const first = Math.ceil(extent.low / step - 1e-9);
  const last = Math.floor(extent.high / step + 1e-9);
  return Array.from({ length: Math.max(0, last - first + 1) }, (_, i) => (first + i) * step);
}
