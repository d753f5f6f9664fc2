/** The user's backgrounds as layers of the map: pictures, finer where one looks closely, and quiet features. */

import { buffer, containsExtent, getIntersection, intersects, isEmpty } from "ol/extent.js";
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import MultiPoint from "ol/geom/MultiPoint.js";
import type BaseLayer from "ol/layer/Base.js";
import ImageLayer from "ol/layer/Image.js";
import VectorImageLayer from "ol/layer/VectorImage.js";
import type OlMap from "ol/Map.js";
import type Projection from "ol/proj/Projection.js";
import Static from "ol/source/ImageStatic.js";
import VectorSource from "ol/source/Vector.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import type { BackgroundAnswer } from "../api/client.ts";
import type { Backgrounds } from "../state/backgrounds.ts";

type Extent = number[];
type Picture = ImageLayer<Static>;

const PICTURES_Z = -3;
const FEATURES_Z = -1;
const FINER_UNDER = 0.75; // of the shown picture's own cell: then a finer part is asked for
const AROUND = 0.25; // of the view, on each side
const MOST_CELLS = 2048;

interface Laid {
  of: string;
  base: BaseLayer;
  answer: BackgroundAnswer;
  part: { layer: Picture; extent: Extent; cell_m: number } | null;
}

/** A picture laid on the plan over an extent. [m] */
export function pictureLayer(url: string, extent: Extent, projection: Projection, opacity: number): Picture {
  return new ImageLayer({ source: new Static({ url, imageExtent: extent, projection }), opacity, zIndex: 0 });
}

/** Keeps the layers of a map as a job's backgrounds are chosen. */
export class Backdrops {
  private readonly laid = new Map<string, Laid>();
  private from: Backgrounds | null = null;
  /** Where to go once the plan can be seen again. */
  private awaited: Extent | null = null;
  private look = lookOf("#808080", "#ffffff");

  constructor(
    private readonly map: OlMap,
    private readonly projection: Projection,
    /** Whether nothing else is on the plan: then it shows the backgrounds. */
    private readonly isAlone: () => boolean,
  ) {
    map.on("moveend", () => this.refine());
    map.on("change:size", () => {
      if (this.awaited && this.isSeen) this.fit(this.awaited);
    });
  }

  /** Show these backgrounds from now on. */
  follow(from: Backgrounds): void {
    if (this.from === from) return;
    this.from?.removeEventListener("change", this.draw);
    this.from?.removeEventListener("go", this.went);
    this.from = from;
    from.addEventListener("change", this.draw);
    from.addEventListener("go", this.went);
    this.draw();
  }

  /** Take the inks of the shade in use. */
  restyle(soft: string, paper: string): void {
    this.look = lookOf(soft, paper);
    for (const { base } of this.laid.values()) base.changed();
  }

  /** Bounds of all that is shown; null where nothing is. [m] */
  get extent(): Extent | null {
    const shown = [...this.laid.values()].map(({ answer }) => answer.bounds_m as Extent);
    if (shown.length === 0) return null;
    const edge = (i: number, pick: (...values: number[]) => number) =>
      pick(...shown.map((bounds) => bounds[i] ?? 0));
    return [edge(0, Math.min), edge(1, Math.min), edge(2, Math.max), edge(3, Math.max)];
  }

  private draw = (): void => {
    const { from } = this;
    if (!from) return;
    const shown = from.paths.filter((path) => from.choice(path).isShown);
    for (const [path, laid] of this.laid)
      if (!shown.includes(path) || from.answers.get(path) !== laid.answer) this.remove(path);
    const count = this.laid.size;
    shown.forEach((path, order) => {
      const answer = from.answers.get(path);
      if (!answer || answer.kind === "none") return;
      const laid = this.laid.get(path) ?? this.add(path, answer);
      const { opacity } = from.choice(path);
      laid.base.setOpacity(opacity);
      laid.part?.layer.setOpacity(opacity);
      // the first of the list lies on top
      if (answer.kind === "picture") laid.base.setZIndex(PICTURES_Z - order);
    });
    if (this.laid.size > count && this.isAlone()) this.fit(this.extent);
    this.refine();
  };

  /** A narrow screen shows the plan or a panel, not both. */
  private get isSeen(): boolean {
    const [width = 0, height = 0] = this.map.getSize() ?? [];
    return width > 0 && height > 0;
  }

  private fit(bounds: Extent | null): void {
    this.awaited = this.isSeen ? null : bounds;
    if (!bounds || this.awaited) return;
    const [west = 0, south = 0, east = 0, north = 0] = bounds;
    const margin = Math.max(east - west, north - south) > 0 ? 0 : 10; // metres around a single point
    this.map.getView().fit(buffer(bounds, margin), { padding: [20, 20, 20, 20] });
  }

  private add(path: string, answer: BackgroundAnswer): Laid {
    const base =
      answer.kind === "picture"
        ? pictureLayer(answer.address, answer.bounds_m, this.projection, 1)
        : new VectorImageLayer({
            source: new VectorSource({ features: answer.features.flatMap(markOf) }),
            style: () => this.look,
            zIndex: FEATURES_Z,
            imageRatio: 1.5,
          });
    const laid: Laid = { of: path, base, answer, part: null };
    this.map.addLayer(base);
    this.laid.set(path, laid);
    return laid;
  }

  private remove(path: string): void {
    const laid = this.laid.get(path);
    if (!laid) return;
    this.map.removeLayer(laid.base);
    this.dropPart(laid);
    this.laid.delete(path);
  }

  private dropPart(laid: Laid): void {
    if (laid.part) this.map.removeLayer(laid.part.layer);
    laid.part = null;
  }

  /** Ask for the part in view where the picture holds more than the whole of it shows. */
  private refine(): void {
    const view = this.map.getView();
    const resolution = view.getResolution();
    const size = this.map.getSize();
    if (!resolution || !size) return;
    const seen = view.calculateExtent(size);
    for (const laid of this.laid.values()) {
      const { answer, part } = laid;
      const wanted_m = Math.max(resolution / window.devicePixelRatio, answer.cell_m);
      const isCoarse = answer.cell_m < answer.shown_cell_m && wanted_m < answer.shown_cell_m * FINER_UNDER;
      const here = getIntersection(seen, answer.bounds_m);
      if (!isCoarse || isEmpty(here)) this.dropPart(laid);
      else if (!part || !containsExtent(part.extent, here) || part.cell_m > wanted_m * 1.5)
        this.addPart(laid, seen);
    }
  }

  private addPart(laid: Laid, seen: Extent): void {
    const { answer, of } = laid;
    const [left = 0, low = 0, right = 0, high = 0] = seen;
    const around = buffer(seen, AROUND * Math.max(right - left, high - low));
    const [west = 0, south = 0, east = 0, north = 0] = getIntersection(around, answer.bounds_m);
    const part = `&west=${west}&south=${south}&east=${east}&north=${north}&most=${MOST_CELLS}`;
    const opacity = this.from?.choice(of).opacity ?? 1;
    const extent = [west, south, east, north];
    const layer = pictureLayer(answer.address + part, extent, this.projection, opacity);
    layer.setZIndex((laid.base.getZIndex() ?? PICTURES_Z) + 0.5);
    const before = laid.part;
    laid.part = {
      layer,
      extent,
      cell_m: Math.max(answer.cell_m, (east - west) / MOST_CELLS, (north - south) / MOST_CELLS),
    };
    this.map.addLayer(layer);
    // the part before stays until the new one can be seen
    const done = () => before && this.map.removeLayer(before.layer);
    layer.getSource()?.once("imageloadend", done);
    layer.getSource()?.once("imageloaderror", done);
  }

  private went = (event: Event): void => {
    const { answer, onlyIfUnseen } = (
      event as CustomEvent<{ answer: BackgroundAnswer; onlyIfUnseen: boolean }>
    ).detail;
    const view = this.map.getView();
    const bounds = answer.bounds_m as Extent;
    if (onlyIfUnseen && intersects(view.calculateExtent(), bounds)) return;
    this.fit(bounds);
  };
}

function markOf({ geometry, points_m, closed }: BackgroundAnswer["features"][number]): Feature[] {
  const points: number[][] = [];
  for (let i = 0; i + 1 < points_m.length; i += 2)
    points.push([points_m[i] as number, points_m[i + 1] as number]);
  const first = points[0];
  if (!first) return [];
  if (geometry === "point" || points.length < 2) return [new Feature(new MultiPoint(points))];
  return [new Feature(new LineString(closed ? [...points, first] : points))];
}

/** Thin and grey, with a breath of paper around it so that it can be read on a picture. */
function lookOf(soft: string, paper: string): Style[] {
  const dot = new CircleStyle({
    radius: 3,
    fill: new Fill({ color: soft }),
    stroke: new Stroke({ color: paper }),
  });
  return [
    new Style({ stroke: new Stroke({ color: `${paper}99`, width: 3 }) }),
    new Style({ stroke: new Stroke({ color: soft, width: 1 }), image: dot }),
  ];
}
