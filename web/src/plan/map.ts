/** The map under the plan: its layers, its view, and the hands that move it about. */

import type Feature from "ol/Feature.js";
import DragPan from "ol/interaction/DragPan.js";
import { defaults as usualInteractions } from "ol/interaction/defaults.js";
import VectorLayer from "ol/layer/Vector.js";
import VectorImageLayer from "ol/layer/VectorImage.js";
import OlMap from "ol/Map.js";
import Projection from "ol/proj/Projection.js";
import VectorSource from "ol/source/Vector.js";
import type Style from "ol/style/Style.js";
import View from "ol/View.js";
import { FenceSource } from "./fence_source.ts";

/** The job's plane: metres east and north, of no place on the globe. */
export const LOCAL = new Projection({ code: "fence-plane", units: "m", extent: [-1e7, -1e7, 1e7, 1e7] });

/** Layers that a hand can take something from: obstacles, lines, posts. */
export const FENCE_Z: readonly number[] = [1, 2, 3];
/** Marks are drawn so far beyond the frame, so that panning moves what is drawn and draws nothing anew till it ends. */
const PAN_PX = 500;

/** What the plan draws, by layer. */
export class PlanSources {
  readonly heights = new VectorSource();
  readonly obstacles = new VectorSource();
  readonly lines = new VectorSource();
  readonly fence = new FenceSource();
  readonly sketched = new VectorSource();

  /** Draw again what is there, its looks having changed. */
  repaint(): void {
    this.heights.changed();
    this.repaintMarks();
  }

  /** Draw again what can be chosen. */
  repaintMarks(): void {
    for (const source of [this.obstacles, this.lines, this.fence]) source.changed();
  }
}

export interface PlanMap {
  map: OlMap;
  /** The layer of the contours. */
  contoured: VectorImageLayer<VectorSource>;
}

type Look = (mark: Feature, resolution: number) => Style | Style[] | undefined;

/** A map in a frame, looking as `look` says; what is being drawn looks as `drawn` says. */
export function planMap(
  frame: HTMLElement,
  sources: PlanSources,
  look: Look,
  drawn: (mark: Feature) => Style[],
): PlanMap {
  const style = (mark: unknown, resolution: number) => look(mark as Feature, resolution);
  const layer = (source: VectorSource, zIndex: number) =>
    new VectorLayer({ source, style, zIndex, renderBuffer: PAN_PX });
  const sketched = new VectorLayer({
    source: sources.sketched,
    zIndex: 9,
    style: (mark) => drawn(mark as Feature),
  });
  const contoured = new VectorImageLayer({ source: sources.heights, style, zIndex: 0.5, imageRatio: 1.5 });
  const isStill = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const fenced = [sources.obstacles, sources.lines, sources.fence].map((source, place) =>
    layer(source, FENCE_Z[place] ?? 0),
  );
  const map = new OlMap({
    target: frame,
    controls: [],
    layers: [contoured, ...fenced, sketched],
    view: new View({
      projection: LOCAL,
      center: [0, 0],
      resolution: 0.5,
      minResolution: 0.005,
      maxResolution: 500,
      enableRotation: false,
    }),
    interactions: usualInteractions({
      doubleClickZoom: false,
      altShiftDragRotate: false,
      pinchRotate: false,
      ...(isStill ? { zoomDuration: 0, dragPan: false } : {}),
    }),
  });
  if (isStill) map.addInteraction(new DragPan()); // without the glide that it has as a rule
  return { map, contoured };
}

export function replace(source: VectorSource, marks: Feature[]): void {
  source.clear(true);
  source.addFeatures(marks);
}
