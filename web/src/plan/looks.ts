/** How things look on the plan: every role of post has its own mark, so that no meaning hangs on colour alone. */

import type { FeatureLike } from "ol/Feature.js";
import Feature from "ol/Feature.js";
import OlPoint from "ol/geom/Point.js";
import CircleStyle from "ol/style/Circle.js";
import Fill from "ol/style/Fill.js";
import RegularShape from "ol/style/RegularShape.js";
import Stroke from "ol/style/Stroke.js";
import Style from "ol/style/Style.js";
import Text from "ol/style/Text.js";
import { CODE, type PlanInks, USE_STEPS, useStep } from "./inks.ts";
import { EMPTY_PLAN } from "./model.ts";
import { inTwo, NAMED_UNDER_M, type NameSet, PlanNames, POST_NAME_PX } from "./plan_names.ts";
import { postShape } from "./post_shape.ts";

/** About half the way to the next post: room for a ring on the plan. */
const HALF_BAY_M = 1.5;

const AREA_FILL = "22";
const DETAIL_UNDER_M = 0.4; // metres a pixel: beyond it braces and small crosses would only clutter
/** Posts nearer than this run into one stroke: a band stands for them. */
const DENSE_PX = 4;
const DOT_PX = { least: 1.25, most: 3.5 };
const SHARES_UNDER_M = 0.08; // under it there is room for a percentage at each post

/** Styles by kind of mark, made once for a set of inks. */
export class Looks {
  private readonly kept = new Map<string, Style | Style[]>();
  /** Utilisation of each post where the plan shows it; null where it does not. */
  used: ReadonlyMap<string, number | null> | null = null;
  /** Posts chosen together. */
  several: ReadonlySet<string> = new Set();
  /** How far posts stand from one to the next, on the whole. [m] */
  bay_m = 0;
  /** Where the names stand. */
  names = new PlanNames(EMPTY_PLAN);
  /** Number of the chosen obstacle: its points can be taken; -1 where none is chosen. */
  chosenRow = -1;

  constructor(
    private readonly inks: PlanInks,
    private readonly isDark: boolean,
  ) {}

  private once(key: string, make: () => Style | Style[]): Style | Style[] {
    const found = this.kept.get(key);
    if (found) return found;
    if (this.kept.size > 4000) this.kept.clear();
    const made = make();
    this.kept.set(key, made);
    return made;
  }

  /** Style of a mark at a resolution [m a pixel]; what would only clutter there is left out. */
  of(mark: FeatureLike, resolution: number, chosen: string, hovered: string): Style | Style[] | undefined {
    const kind = String(mark.get("kind"));
    const id = String(mark.get("id") ?? "");
    const isMarked = id !== "" && (id === chosen || id === hovered);
    if (kind === "post") return this.post(mark, resolution, isMarked, id === chosen);
    if (kind === "obstacle") return this.obstacle(mark, resolution);
    if (kind === "obstacle-point") return mark.get("row") === this.chosenRow ? this.handle() : undefined;
    if (kind === "line") return this.line(isMarked, this.isDense(resolution));
    if (kind === "line-name") return this.lineName(mark, resolution, isMarked);
    if (kind === "corner") return resolution < 4 ? this.corner() : undefined;
    if (kind === "brace") return resolution < DETAIL_UNDER_M ? this.brace() : undefined;
    if (kind === "contour") return this.contour(Boolean(mark.get("heavy")));
    if (kind === "was") return resolution < DETAIL_UNDER_M ? this.was() : undefined;
    if (kind === "gate") return this.gate(mark, resolution, isMarked);
    return undefined;
  }

  /** Line posts stand so close at a resolution [m a pixel] that marks of their own would run together. */
  isDense(resolution: number): boolean {
    return this.bay_m > 0 && this.bay_m / resolution < DENSE_PX;
  }

  private post(
    mark: FeatureLike,
    resolution: number,
    isPointed: boolean,
    isChosen: boolean,
  ): Style | Style[] | undefined {
    const role = String(mark.get("role"));
    const isLine = role === "line";
    const id = String(mark.get("id"));
    const isMarked = isPointed || this.several.has(id);
    if (this.used) return this.use(id, isLine, isMarked, isChosen, resolution);
    if (isLine && this.isDense(resolution) && !isMarked) return undefined;
    const overloaded = Boolean(mark.get("overloaded"));
    const set = isLine ? undefined : this.names.post(id, resolution);
    const name = isPointed || set || (isLine && resolution < NAMED_UNDER_M.post / 4) ? id : "";
    const room_px = Math.round(this.bay_m / resolution) / 3;
    const dot_px = isMarked ? DOT_PX.most : Math.min(DOT_PX.most, Math.max(DOT_PX.least, room_px));
    return this.once(
      `post ${role} ${isMarked} ${overloaded} ${isLine ? dot_px : ""} ${placeOf(set)} ${name}`,
      () => {
        const image = postShape(this.inks, role, isMarked, overloaded, dot_px);
        const zIndex = (isLine ? 4 : 5) + (overloaded ? 0.5 : 0); // from far, no neighbour lies on what is overloaded
        return new Style({ image, zIndex, ...(name ? { text: this.words(name, set ?? POST_NAME_PX) } : {}) });
      },
    );
  }

  /** How much of a post is used: the more, the larger and heavier its ring; past what it carries, filled. */
  private use(
    id: string,
    isLine: boolean,
    isMarked: boolean,
    isChosen: boolean,
    resolution: number,
  ): Style | Style[] | undefined {
    const share = this.used?.get(id);
    const step = useStep(share);
    const look = USE_STEPS[step];
    if (!look || (step === 0 && isLine && this.isDense(resolution) && !isMarked)) return undefined;
    const ink = isMarked
      ? this.inks.accent
      : [this.inks.soft, this.inks.note, this.inks.caution, this.inks.stop][step];
    const words = resolution < SHARES_UNDER_M || isChosen ? `${Math.round((share ?? 0) * 100)} %` : "";
    // From far, rings of line posts shrink to dots that do not run into one band; what is overloaded stays large.
    const room_px = Math.round(2 * Math.max(1.5 + 0.6 * step, HALF_BAY_M / resolution)) / 2;
    const radius = isLine && !look.isFilled && !isMarked ? Math.min(look.ring_px, room_px) : look.ring_px;
    return this.once(`use ${step} ${radius} ${isMarked} ${words}`, () => {
      const stroke = new Stroke({ color: ink ?? this.inks.ink, width: Math.min(1 + step * 0.8, radius / 2) });
      const fill = new Fill({ color: look.isFilled ? (ink ?? this.inks.ink) : this.inks.paper });
      const image = new CircleStyle({ radius, stroke, fill });
      return new Style({
        image,
        zIndex: (isLine ? 4 : 6) + step / 4,
        ...(words ? { text: this.words(words, -20) } : {}),
      });
    });
  }

  /** A line; where its posts stand too close to be drawn, with a band for them. */
  private line(isMarked: boolean, isDense: boolean): Style | Style[] {
    const under = isDense ? { color: `${this.inks.soft}73`, width: 8 } : { color: this.inks.paper, width: 5 };
    return this.once(`line ${isMarked} ${isDense}`, () => [
      new Style({ stroke: new Stroke(under), zIndex: 2 }),
      new Style({
        stroke: new Stroke({
          color: isMarked ? this.inks.accent : this.inks.ink,
          width: isMarked ? 2.5 : 1.6,
        }),
        zIndex: 2,
      }),
    ]);
  }

  /** The name of a line, beside its longest leg where it has room there. */
  private lineName(mark: FeatureLike, resolution: number, isMarked: boolean): Style | Style[] | undefined {
    const name = String(mark.get("id"));
    const set = this.names.line(name, resolution, isMarked);
    putName(mark, set);
    if (!set) return undefined;
    return this.once(`line-name ${isMarked} ${placeOf(set)} ${name}`, () => {
      const text = this.words(name, set, isMarked ? this.inks.accent : this.inks.ink);
      return new Style({ text, geometry: nameAt, zIndex: 3 });
    });
  }

  /** A point of the chosen obstacle, which a hand can take. */
  private handle(): Style | Style[] {
    return this.once("handle", () => {
      const stroke = new Stroke({ color: this.inks.accent, width: 2 });
      return new Style({
        image: new RegularShape({
          points: 4,
          radius: 8,
          angle: Math.PI / 4,
          stroke,
          fill: new Fill({ color: this.inks.paper }),
        }),
        zIndex: 6,
      });
    });
  }

  private corner(): Style | Style[] {
    return this.once("corner", () => {
      const stroke = new Stroke({ color: this.inks.soft, width: 1 });
      return new Style({
        image: new CircleStyle({ radius: 11, stroke, fill: new Fill({ color: "rgba(0,0,0,0.01)" }) }),
        zIndex: 1,
      });
    });
  }

  private contour(isHeavy: boolean): Style | Style[] {
    return this.once(`contour ${isHeavy}`, () => {
      const stroke = new Stroke({
        color: `${this.inks.soft}${isHeavy ? "99" : "55"}`,
        width: isHeavy ? 1.2 : 0.8,
      });
      return new Style({ stroke, zIndex: 0 });
    });
  }

  /** Where a post stood before the last edit: a small cross. */
  private was(): Style | Style[] {
    return this.once("was", () => {
      const stroke = new Stroke({ color: this.inks.accent, width: 1.25 });
      return new Style({
        image: new RegularShape({ points: 4, radius: 5, radius2: 0, angle: Math.PI / 4, stroke }),
        zIndex: 3,
      });
    });
  }

  private brace(): Style | Style[] {
    return this.once(
      "brace",
      () => new Style({ stroke: new Stroke({ color: this.inks.ink, width: 2.5 }), zIndex: 3 }),
    );
  }

  private gate(mark: FeatureLike, resolution: number, isMarked: boolean): Style | Style[] {
    const name = String(mark.get("id"));
    const set = this.names.gate(Number(mark.get("place")), resolution, isMarked);
    putName(mark, set);
    return this.once(`gate ${isMarked} ${placeOf(set)} ${name}`, () => {
      const ink = isMarked ? this.inks.accent : this.inks.ink;
      const stroke = new Stroke({ color: ink, width: isMarked ? 3 : 2, lineDash: [6, 4] });
      const leaf = new Style({ stroke, zIndex: 3 });
      if (!set) return leaf;
      return [leaf, new Style({ text: this.words(inTwo(name), set, ink), geometry: nameAt, zIndex: 3 })];
    });
  }

  private obstacle(mark: FeatureLike, resolution: number): Style | Style[] {
    const colour = String(mark.get("colour"));
    const ink = CODE[colour]?.[this.isDark ? 1 : 0] ?? this.inks.soft;
    const wordsInk = (!this.isDark && CODE[colour]?.[2]) || ink;
    const isService = Boolean(mark.get("letter"));
    const name = String(mark.get("title"));
    const row = Number(mark.get("row"));
    const set = this.names.obstacle(row, resolution, row === this.chosenRow);
    putName(mark, set);
    const more_px = row === this.chosenRow ? 1.5 : 0;
    return this.once(`obstacle ${colour} ${isService} ${placeOf(set)} ${more_px} ${name}`, () => {
      const dash = isService ? [14, 5] : [4, 4];
      const shape = new Style({
        stroke: new Stroke({ color: ink, width: (isService ? 2.5 : 1.5) + more_px, lineDash: dash }),
        fill: new Fill({ color: ink + AREA_FILL }),
        image: new CircleStyle({
          radius: 6,
          stroke: new Stroke({ color: ink, width: 2 }),
          fill: new Fill({ color: ink + AREA_FILL }),
        }),
        zIndex: 0,
      });
      if (!set) return shape;
      return [shape, new Style({ text: this.words(name, set, wordsInk), geometry: nameAt, zIndex: 0 })];
    });
  }

  /** What is being drawn, and the guide that caught it. */
  drawn(mark: FeatureLike): Style[] {
    const accent = this.inks.accent;
    const said = String(mark.get("said") ?? "");
    return [
      new Style({
        stroke: new Stroke({ color: accent, width: 2.5, ...(mark.get("guide") ? { lineDash: [3, 5] } : {}) }),
        image: new CircleStyle({
          radius: 6,
          stroke: new Stroke({ color: accent, width: 2 }),
          fill: new Fill({ color: this.inks.paper }),
        }),
        zIndex: 9,
        ...(said ? { text: this.words(said, -20, accent) } : {}),
      }),
    ];
  }

  /** Words so far below (or above) a place, or as they are set. */
  private words(text: string, set: number | NameSet, ink = this.inks.ink): Text {
    const { right_px, down_px, align, turn_rad } =
      typeof set === "number" ? { right_px: 0, down_px: set, align: "center" as const, turn_rad: 0 } : set;
    return new Text({
      text,
      offsetX: right_px,
      offsetY: down_px,
      textAlign: align,
      rotation: turn_rad,
      font: "600 12px system-ui, sans-serif",
      fill: new Fill({ color: ink }),
      stroke: new Stroke({ color: this.inks.paper, width: 4 }),
      overflow: true,
    });
  }
}

/** How a name is set beside its place, as a key. */
function placeOf(set: NameSet | undefined): string {
  return set ? `${set.right_px.toFixed(0)} ${set.down_px.toFixed(0)} ${set.align} ${set.turn_rad}` : "";
}

/** Let a mark know where its name is set from. */
function putName(mark: FeatureLike, set: NameSet | undefined): void {
  if (mark instanceof Feature) mark.set("name_at", set && new OlPoint([...set.at]), true);
}

/** Where the name of a mark is set from; while a hand holds what is named, that itself. */
function nameAt(mark: FeatureLike): OlPoint | undefined {
  const own = mark.getGeometry();
  return mark.get("held") ? (own as OlPoint) : (mark.get("name_at") as OlPoint | undefined);
}

/** A mark for the map with what its look needs. */
export function markOf(kind: string, id: string, more: Record<string, unknown> = {}): Feature {
  const mark = new Feature();
  mark.setProperties({ kind, id, ...more }, true);
  return mark;
}
