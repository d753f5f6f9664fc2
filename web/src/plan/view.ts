/** The plan as a thing on the page: the map with its layers, and the hand that works on it. */

import { css, html, LitElement, nothing, type TemplateResult, unsafeCSS } from "lit";
import { customElement, property, query } from "lit/decorators.js";
import Feature from "ol/Feature.js";
import LineString from "ol/geom/LineString.js";
import OlPoint from "ol/geom/Point.js";
import { defaults as usualInteractions } from "ol/interaction/defaults.js";
import PointerInteraction from "ol/interaction/Pointer.js";
import type ImageLayer from "ol/layer/Image.js";
import VectorLayer from "ol/layer/Vector.js";
import VectorImageLayer from "ol/layer/VectorImage.js";
import OlMap from "ol/Map.js";
import type MapBrowserEvent from "ol/MapBrowserEvent.js";
import mapStyles from "ol/ol.css?inline";
import Projection from "ol/proj/Projection.js";
import type Static from "ol/source/ImageStatic.js";
import VectorSource from "ol/source/Vector.js";
import View from "ol/View.js";
import type { Point } from "../flat/bearing.ts";
import { distance, pointAt } from "../flat/bearing.ts";
import type { Grid } from "../flat/contours.ts";
import { say } from "../texts/say.ts";
import { type System, showLong } from "../units/show.ts";
import {
  EMPTY_SKETCH,
  type Held,
  hovering,
  legOf,
  lineUnder,
  postsInBox,
  type Sketch,
  stationOnLine,
  type Tool,
  withPoint,
} from "./hands.ts";
import { Looks, sixDigits, USE_STEPS } from "./looks.ts";
import { FenceMarks, lineMarks, obstacleMarks } from "./marks.ts";
import { EMPTY_PLAN, extentOf, type PlanModel } from "./model.ts";
import { contourMarks, pictureLayer, shadingLayer } from "./terrain.ts";

const REACH_PX = 14;
/** Marks are drawn so far beyond the frame, so that panning moves what is drawn and draws nothing anew till it ends. */
const PAN_PX = 500;
const TOUCH_REACH_PX = 26;
const PLACE_M = 0.2; // metres a pixel at which a place is shown: its posts have their names
const LOCAL = new Projection({ code: "fence-plane", units: "m", extent: [-1e7, -1e7, 1e7, 1e7] });

@customElement("fence-plan")
export class FencePlan extends LitElement {
  static override styles = [
    unsafeCSS(mapStyles),
    css`
      :host { display: block; position: relative; background: var(--paper); min-height: 14rem; }
      .map { position: absolute; inset: 0; touch-action: none; }
      .map:focus-visible { outline: 3px solid var(--accent); outline-offset: -3px; }
      .bar { position: absolute; left: 0.5rem; bottom: 0.4rem; display: grid; gap: 2px; font-size: 0.8rem; pointer-events: none; color: var(--ink); }
      .bar i { display: block; height: 6px; border: 1.5px solid var(--ink); border-top: 0; }
      .legend { position: absolute; left: 0.5rem; top: 0.5rem; display: grid; gap: 0.1rem; font-size: 0.8rem; padding: 0.4rem 0.6rem; background: var(--paper); border: 1px solid var(--line); pointer-events: none; }
      .legend span { display: flex; align-items: center; gap: 0.4rem; min-height: 1.4rem; }
      .legend i { width: 10px; height: 10px; border-radius: 50%; margin: 0 10px; border: 1px solid var(--soft); }
      .legend .u1 { width: 16px; height: 16px; margin: 0 7px; border: 1.8px solid var(--note); }
      .legend .u2 { width: 22px; height: 22px; margin: 0 4px; border: 2.6px solid var(--caution); }
      .legend .u3 { width: 28px; height: 28px; margin: 0 1px; border-color: var(--stop); background: var(--stop); }
      @media (max-width: 36rem) { .bar { bottom: 3.6rem; } }
      .north { position: absolute; right: 0.6rem; top: 0.5rem; width: 26px; height: 34px; pointer-events: none; color: var(--ink); }
    `,
  ];

  @property({ attribute: false }) model: PlanModel = EMPTY_PLAN;
  @property() system: System = "us";
  @property() tool: Tool = "choose";
  @property() chosen = "";
  @property() hovered = "";
  @property({ type: Boolean }) locked = false;
  /** Posts are drawn by how much of them is used. */
  @property({ type: Boolean }) showsUse = false;
  /** Posts chosen together. */
  @property({ attribute: false }) several: ReadonlySet<string> = new Set();
  /** Bearing of the plane's y axis from north. [deg] */
  @property({ type: Number }) north_deg = 0;
  @query(".map") private frame!: HTMLElement;

  private readonly heights = new VectorSource();
  private readonly obstacles = new VectorSource();
  private readonly lines = new VectorSource();
  private readonly fence = new VectorSource();
  private readonly sketched = new VectorSource();
  private readonly marks = new FenceMarks(this.fence);
  private map: OlMap | null = null;
  private looks: Looks | null = null;
  private sketch: Sketch = EMPTY_SKETCH;
  private box: { from: Point; to: Point } | null = null;
  private held: { thing: Held; from: Point; isMoved: boolean } | null = null;
  private fitted = "";

  private shaded: ImageLayer<Static> | null = null;
  private backdrop: ImageLayer<Static> | null = null;

  /** What is being drawn, for the panel beside the plan. */
  get drawn(): Sketch {
    return this.sketch;
  }

  override firstUpdated(): void {
    const look = (mark: Feature | unknown, resolution: number) =>
      this.looks?.of(mark as Feature, resolution, this.chosen, this.hovered);
    const layer = (source: VectorSource, zIndex: number) =>
      new VectorLayer({
        source,
        style: look,
        zIndex,
        renderBuffer: PAN_PX,
      });
    const drawing = new VectorLayer({
      source: this.sketched,
      zIndex: 9,
      style: (mark) => this.looks?.drawn(mark) ?? [],
    });
    this.map = new OlMap({
      target: this.frame,
      controls: [],
      layers: [
        new VectorImageLayer({ source: this.heights, style: look, zIndex: 0.5, imageRatio: 1.5 }),
        layer(this.obstacles, 1),
        layer(this.lines, 2),
        layer(this.fence, 3),
        drawing,
      ],
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
      }),
    });
    this.map.addInteraction(
      new PointerInteraction({
        handleDownEvent: (event) => this.taken(event),
        handleDragEvent: (event) => this.dragged(event),
        handleUpEvent: (event) => this.dropped(event),
        handleMoveEvent: (event) => this.hoveredAt(event),
        stopDown: (handled) => handled,
      }),
    );
    this.map.on("click", (event) => this.clicked(event));
    this.map.on("dblclick", (event) => {
      if (this.sketch.points.length) {
        event.preventDefault();
        this.finish();
      }
    });
    this.map.on("postrender", () => this.drawBar());
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.restyle());
    this.restyle();
  }

  /** Lay the terrain under the plan: shading and contours; null takes them away. */
  async showTerrain(grid: Grid | null): Promise<void> {
    const before = this.shaded;
    this.shaded = null;
    replace(this.heights, grid ? contourMarks(grid, this.system === "us" ? 0.3048 : 1) : []);
    const layer = grid && this.heights.getFeatures().length > 0 ? await shadingLayer(grid, LOCAL) : null;
    if (before) this.map?.removeLayer(before);
    if (layer) this.map?.addLayer(layer);
    this.shaded = layer;
  }

  /** Lay the user's own picture under the plan over an extent [m]; it is kept by this window alone. */
  showPicture(url: string, extent: number[]): void {
    if (this.backdrop) this.map?.removeLayer(this.backdrop);
    this.backdrop = pictureLayer(url, extent, LOCAL, 0.85);
    this.backdrop.setZIndex(-1);
    this.map?.addLayer(this.backdrop);
    this.map?.getView().fit(extent, { padding: [20, 20, 20, 20] });
  }

  /** Read the inks again after the shade has changed. */
  restyle(): void {
    const style = getComputedStyle(this);
    const ink = (name: string) => sixDigits(style.getPropertyValue(name).trim() || "#000000");
    const paper = ink("--paper");
    const isDark = Number.parseInt(paper.slice(1, 3), 16) < 128;
    this.looks = new Looks(
      {
        ink: ink("--ink"),
        soft: ink("--soft"),
        line: ink("--line"),
        paper,
        accent: ink("--accent"),
        stop: ink("--stop"),
        caution: ink("--caution"),
        note: ink("--note"),
      },
      isDark,
    );
    this.tellLooks();
    this.repaint();
  }

  private tellLooks(): void {
    if (!this.looks) return;
    this.looks.used = this.showsUse
      ? new Map(this.model.posts.map((post) => [post.id, post.utilisation]))
      : null;
    this.looks.several = this.several;
  }

  private repaint(): void {
    for (const source of [this.heights, this.obstacles, this.lines, this.fence]) source.changed();
  }

  override updated(changed: Map<string, unknown>): void {
    const before = changed.get("model") as PlanModel | undefined;
    if (changed.has("model")) this.fill(before ?? EMPTY_PLAN);
    if (changed.has("tool")) this.dropSketch();
    if (changed.has("showsUse") || changed.has("several") || (changed.has("model") && this.showsUse)) {
      this.tellLooks();
      this.repaint();
    }
    if (changed.has("chosen") || changed.has("hovered")) this.repaint();
  }

  private fill(before: PlanModel): void {
    const now = this.model;
    if (before.obstacles !== now.obstacles) replace(this.obstacles, obstacleMarks(now));
    if (before.lines !== now.lines && !this.held) replace(this.lines, lineMarks(now));
    if (
      before.posts !== now.posts ||
      before.gates !== now.gates ||
      before.braces !== now.braces ||
      before.were !== now.were
    )
      this.marks.show(now);
  }

  /** Show all of the job once; `name` says which job, so that an edit does not move the view. */
  fit(name: string, again = false): void {
    if (!this.map || (this.fitted === name && !again)) return;
    const extent = extentOf(this.model);
    if (!extent) return;
    this.fitted = name;
    this.map.updateSize();
    this.map.getView().fit(extent, { padding: [48, 40, 72, 40], minResolution: 0.02 });
  }

  /** Where a point lies in the view. [pixels] */
  pixelOf(point: Point): number[] {
    return this.map?.getPixelFromCoordinate([...point]) ?? [0, 0];
  }

  /** Bring a place to the middle, near enough to read what stands there. */
  showPlace(point: Point): void {
    const view = this.map?.getView();
    view?.setCenter([...point]);
    if ((view?.getResolution() ?? 0) > PLACE_M) view?.setResolution(PLACE_M);
  }

  zoomBy(steps: number): void {
    this.map?.getView().adjustZoom(steps);
  }

  private reach(event: MapBrowserEvent): number {
    const pointer = event.originalEvent as PointerEvent;
    const pixels = pointer.pointerType === "touch" ? TOUCH_REACH_PX : REACH_PX;
    return pixels * (this.map?.getView().getResolution() ?? 1);
  }

  private thingAt(event: MapBrowserEvent): Held | null {
    const pointer = event.originalEvent as PointerEvent;
    const hitTolerance = pointer.pointerType === "touch" ? 14 : 5;
    const ranked: Record<string, number> = { corner: 1, gate: 2, post: 3, obstacle: 4, line: 5 };
    let best: Feature | null = null;
    this.map?.forEachFeatureAtPixel(
      event.pixel,
      (mark) => {
        const rank = ranked[String(mark.get("kind"))] ?? 9;
        if (rank < (best ? (ranked[String(best.get("kind"))] ?? 9) : 9)) best = mark as Feature;
        return false;
      },
      { hitTolerance, layerFilter: (layer) => ![0.5, 9].includes(layer.getZIndex() ?? 0) },
    );
    return best ? heldOf(best) : null;
  }

  private tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  private taken(event: MapBrowserEvent): boolean {
    if (this.tool === "box") {
      const from = event.coordinate as unknown as Point;
      this.box = { from, to: from };
      return true;
    }
    if (this.tool !== "choose" || this.locked) return false;
    const thing = this.thingAt(event);
    if (!thing || (thing.kind !== "corner" && thing.kind !== "gate")) return false;
    this.held = { thing, from: event.coordinate as unknown as Point, isMoved: false };
    return true;
  }

  private dragged(event: MapBrowserEvent): void {
    if (this.box) {
      this.box = { from: this.box.from, to: event.coordinate as unknown as Point };
      replace(this.sketched, [boxMark(this.box.from, this.box.to)]);
      return;
    }
    if (!this.held) return;
    const hand = event.coordinate as unknown as Point;
    this.held.isMoved = true;
    const { thing } = this.held;
    if (thing.kind === "corner") {
      const to = this.caughtAt(hand, this.reach(event), thing);
      this.moveCornerMark(thing, to);
      this.tell("thing-dragged", { held: thing, to });
    } else {
      const station_m = stationOnLine(this.model, this.gateLine(thing.id), hand);
      if (station_m !== null) this.tell("thing-dragged", { held: thing, to: hand, station_m });
    }
  }

  private gateLine(name: string): string {
    return this.model.gates.find((gate) => gate.name === name)?.line ?? "";
  }

  /** A dragged corner is caught by other corners and lines, never by its own. */
  private caughtAt(hand: Point, reach_m: number, thing: Held): Point {
    const others = {
      ...this.model,
      posts: [],
      lines: this.model.lines.filter((line) => line.name !== thing.line),
    };
    return hovering(EMPTY_SKETCH, hand, reach_m, others).next?.point ?? hand;
  }

  private moveCornerMark(thing: Held, to: Point): void {
    const line = this.model.lines.find((each) => each.name === thing.line);
    const mark = this.lines
      .getFeatures()
      .find((each) => each.get("kind") === "line" && each.get("id") === thing.line);
    if (!line || !mark) return;
    const points = line.points.map((point, i) => [...(i === thing.corner ? to : point)]);
    const first = points[0];
    mark.setGeometry(new LineString(line.isClosed && first ? [...points, first] : points));
    const handle = this.lines.getFeatures().find((each) => each.get("id") === thing.id);
    handle?.setGeometry(new OlPoint([...to]));
  }

  private dropped(event: MapBrowserEvent): boolean {
    if (this.box) {
      const { from, to } = this.box;
      this.box = null;
      replace(this.sketched, []);
      this.tell("posts-boxed", postsInBox(this.model, from, to));
      return false;
    }
    const held = this.held;
    this.held = null;
    if (!held) return false;
    const hand = event.coordinate as unknown as Point;
    if (!held.isMoved) {
      this.tell("thing-chosen", held.thing);
    } else if (held.thing.kind === "corner") {
      this.tell("thing-moved", { held: held.thing, to: this.caughtAt(hand, this.reach(event), held.thing) });
    } else {
      const station_m = stationOnLine(this.model, this.gateLine(held.thing.id), hand);
      if (station_m !== null) this.tell("thing-moved", { held: held.thing, to: hand, station_m });
    }
    return false;
  }

  private hoveredAt(event: MapBrowserEvent): void {
    if (this.tool === "choose") {
      const thing = this.thingAt(event);
      this.frame.style.cursor = thing ? "pointer" : "";
      this.tell("post-hovered", thing?.kind === "post" ? thing.id : "");
      return;
    }
    this.frame.style.cursor = "crosshair";
    if (this.tool === "box") return;
    this.sketch = hovering(this.sketch, event.coordinate as unknown as Point, this.reach(event), this.model);
    this.drawSketch();
  }

  private clicked(event: MapBrowserEvent): void {
    const hand = event.coordinate as unknown as Point;
    if (this.tool === "box") return;
    if (this.tool === "choose") {
      const under = lineUnder(this.model, hand, this.reach(event));
      const thing = this.thingAt(event) ?? (under ? { kind: "line" as const, id: under.line } : null);
      const isHere = thing?.kind === "line" && under?.line === thing.id;
      this.tell("thing-chosen", isHere ? { ...thing, station_m: under.station_m, at: hand } : thing);
      return;
    }
    if (this.locked && this.tool !== "measure") return;
    this.sketch = hovering(this.sketch, hand, this.reach(event), this.model);
    if (this.sketch.isClosing) {
      this.finish(true);
      return;
    }
    this.add(this.sketch.next?.point ?? hand);
  }

  /** Add a point to what is drawn. */
  add(point: Point): void {
    this.sketch = withPoint(this.sketch, point);
    this.drawSketch();
  }

  /** Add a leg by its length and bearing, from the last point, or from 0, 0 where there is none. */
  addLeg(length_m: number, bearing_deg: number): void {
    if (this.sketch.points.length === 0) this.add([0, 0]);
    const last = this.sketch.points.at(-1);
    if (last) this.add(pointAt(last, bearing_deg, length_m));
    const extent = extentOf({
      ...EMPTY_PLAN,
      lines: [{ name: "", points: this.sketch.points, isClosed: false }],
    });
    const size = this.map?.getSize();
    const view = this.map?.getView();
    if (extent && size && view && !contains(view.calculateExtent(size), extent))
      view.fit(extent, { padding: [60, 60, 60, 60] });
  }

  /** Take the last point back. */
  back(): void {
    this.sketch = { ...EMPTY_SKETCH, points: this.sketch.points.slice(0, -1) };
    this.drawSketch();
  }

  /** End the drawing; what was drawn is told, unless it is too little. */
  finish(closed = false): void {
    const { points } = this.sketch;
    const tool = this.tool;
    this.dropSketch();
    if (tool === "measure" || points.length < (tool === "obstacle" ? 1 : 2)) return;
    this.tell("drawn", { tool, points, closed: closed && points.length > 2 });
  }

  dropSketch(): void {
    this.sketch = EMPTY_SKETCH;
    this.drawSketch();
  }

  private drawSketch(): void {
    const { points, next } = this.sketch;
    const marks: Feature[] = points.map((point) => new Feature(new OlPoint([...point])));
    const all = next ? [...points, next.point] : [...points];
    const leg = legOf(this.sketch);
    if (all.length > 1) {
      const line = new Feature(new LineString(all.map((point) => [...point])));
      line.set("guide", this.tool === "measure");
      marks.push(line);
    }
    if (next) {
      const hand = new Feature(new OlPoint([...next.point]));
      const caught = next.caught === "free" ? "" : say(`caught_${next.caught.replace(" ", "_")}` as never);
      const along = leg ? `${showLong(leg.length_m, this.system)}  ${leg.bearing_deg.toFixed(1)}°` : "";
      hand.set("said", [along, caught].filter(Boolean).join(" · "));
      marks.push(hand);
    }
    replace(this.sketched, marks);
    this.tell("sketched", { points: points.length, leg, total_m: lengthOf(all) });
  }

  private keyed = (event: KeyboardEvent): void => {
    if (event.key === "Escape") this.dropSketch();
    else if (event.key === "Enter") this.finish();
    else if (event.key === "Backspace" && this.sketch.points.length) this.back();
    else if (event.key === "+" || event.key === "=") this.zoomBy(0.5);
    else if (event.key === "-") this.zoomBy(-0.5);
    else return;
    event.preventDefault();
  };

  /** A scale bar of a round length. */
  private drawBar(): void {
    const resolution = this.map?.getView().getResolution();
    const bar = this.renderRoot.querySelector<HTMLElement>(".bar");
    const stroke = bar?.querySelector("i");
    const words = bar?.querySelector("span");
    if (!resolution || !stroke || !words) return;
    const unit = this.system === "us" ? 0.3048 : 1;
    const most = (120 * resolution) / unit;
    const power = 10 ** Math.floor(Math.log10(most));
    const round = ([5, 2, 1].find((each) => each * power <= most) ?? 1) * power;
    const width = `${Math.round((round * unit) / resolution)}px`;
    const text = `${Number(round.toPrecision(2))} ${this.system === "us" ? "ft" : "m"}`;
    if (stroke.style.width !== width) stroke.style.width = width;
    if (words.textContent !== text) words.textContent = text;
  }

  private legend(): TemplateResult {
    const words = USE_STEPS.map((step, i) => {
      const from = `${Math.round((USE_STEPS[i - 1]?.upTo ?? 0) * 100)} %`;
      return Number.isFinite(step.upTo)
        ? `${from} – ${Math.round(step.upTo * 100)} %`
        : say("use_over", { share: from });
    });
    return html`<div class="legend"><strong>${say("utilisation")}</strong>${USE_STEPS.map((_, i) => html`<span><i class=${`u${i}`}></i>${words[i]}</span>`)}</div>`;
  }

  override render(): TemplateResult {
    return html`<div class="map" tabindex="0" role="application" aria-label=${say("plan_label")} @keydown=${this.keyed}></div>
      <div class="bar" aria-hidden="true"><span></span><i></i></div>
      ${this.showsUse ? this.legend() : nothing}
      <svg class="north" viewBox="0 0 26 34" role="img" aria-label=${say("north")}>
        <g transform=${`rotate(${-this.north_deg} 13 17)`}><path d="M13 1 L19 22 L13 18 L7 22 Z" fill="currentColor" /><text x="13" y="33" text-anchor="middle" font-size="11" fill="currentColor">N</text></g></svg>`;
  }
}

/** The length of a chain of points. [m] */
function lengthOf(points: readonly Point[]): number {
  return points.reduce((sum, point, i) => sum + (i ? distance(points[i - 1] ?? point, point) : 0), 0);
}

function boxMark(from: Point, to: Point): Feature {
  const ring = [from, [to[0], from[1]], to, [from[0], to[1]], from];
  const mark = new Feature(new LineString(ring.map((point) => [...point])));
  mark.set("guide", true);
  return mark;
}

function replace(source: VectorSource, marks: Feature[]): void {
  source.clear(true);
  source.addFeatures(marks);
}

function heldOf(mark: Feature): Held {
  const kind = mark.get("kind") as Held["kind"];
  const held: Held = { kind, id: String(mark.get("id")) };
  if (kind === "corner")
    return { ...held, line: String(mark.get("line")), corner: Number(mark.get("corner")) };
  return kind === "obstacle" ? { ...held, row: Number(mark.get("row")) } : held;
}

function contains(outer: number[], inner: readonly number[]): boolean {
  const [left, low, right, high] = outer;
  const [a, b, c, d] = inner;
  return (
    [left, low, right, high, a, b, c, d].every((each) => each !== undefined) &&
    (a as number) >= (left as number) &&
    (b as number) >= (low as number) &&
    (c as number) <= (right as number) &&
    (d as number) <= (high as number)
  );
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-plan": FencePlan;
  }
}
