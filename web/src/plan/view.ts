/** The plan as a thing on the page: the map with its layers, and the hand that works on it. */

import { html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query } from "lit/decorators.js";
import type OlMap from "ol/Map.js";
import type { JobState } from "../api/client.ts";
import type { Point } from "../flat/bearing.ts";
import type { Grid } from "../flat/contours.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import { Dropping } from "./dropping.ts";
import { Framing } from "./framing.ts";
import { bar, drawBar, northArrow, useLegend } from "./furniture.ts";
import { PlanHand } from "./hand.ts";
import type { Held, Sketch, Tool } from "./hands.ts";
import { sixDigits } from "./inks.ts";
import { Looks } from "./looks.ts";
import { PlanSources, planMap, replace } from "./map.ts";
import { FenceMarks, lineMarks, obstacleMarks } from "./marks.ts";
import { EMPTY_PLAN, extentOf, type PlanModel, usualBay } from "./model.ts";
import { PlanNames } from "./plan_names.ts";
import { Sketching } from "./sketching.ts";
import { UnderPlan } from "./under_plan.ts";
import { planStyles } from "./view_styles.ts";

@customElement("fence-plan")
export class FencePlan extends LitElement {
  static override styles = planStyles;

  @property({ attribute: false }) model: PlanModel = EMPTY_PLAN;
  /** The job as it is, for the backgrounds that its files give. */
  @property({ attribute: false }) job: JobState | null = null;
  @property() system: System = "us";
  private ground: Grid | null = null;
  @property() tool: Tool = "choose";
  @property() chosen = "";
  /** Number of the chosen obstacle; -1 where none is. */
  @property({ type: Number }) chosenRow = -1;
  @property() hovered = "";
  @property({ type: Boolean }) locked = false;
  /** Points, lines and angles catch the hand. */
  @property({ type: Boolean }) catching = true;
  /** A dragged corner leaves the others at its place behind. */
  @property({ type: Boolean }) alone = false;
  /** Posts are drawn by how much of them is used. */
  @property({ type: Boolean }) showsUse = false;
  /** Posts chosen together. */
  @property({ attribute: false }) several: ReadonlySet<string> = new Set();
  /** Bearing of the plane's y axis from north. [deg] */
  @property({ type: Number }) north_deg = 0;
  @query(".map") private frame!: HTMLElement;

  readonly sources = new PlanSources();
  private readonly marks = new FenceMarks(this.sources.fence);
  private readonly sketching = new Sketching(this);
  /** The model whose lines and obstacles are drawn: not the newest while a hand moves them. */
  private laid: PlanModel = EMPTY_PLAN;
  private names = new PlanNames(EMPTY_PLAN);
  private map: OlMap | null = null;
  private looks: Looks | null = null;
  private framing: Framing | null = null;
  private under: UnderPlan | null = null;
  private hand: PlanHand | null = null;
  private readonly dropping = new Dropping(this, (files) => {
    this.under?.hand(files);
    this.tell("files-dropped", files.length);
  });

  /** What is being drawn, for the panel beside the plan. */
  get drawn(): Sketch {
    return this.sketching.sketch;
  }

  override firstUpdated(): void {
    const made = planMap(
      this.frame,
      this.sources,
      (mark, resolution) => this.looks?.of(mark, resolution, this.chosen, this.hovered),
      (mark) => this.looks?.drawn(mark) ?? [],
    );
    const { map } = made;
    this.map = map;
    this.sources.fence.leavesOut = () => this.leavesOutLinePosts;
    this.hand = new PlanHand(map, this.frame, this, this.sketching);
    this.under = new UnderPlan(made, this.sources, () => extentOf(this.model) === null);
    this.framing = new Framing(
      map,
      () => this.model,
      () => this.under?.backdrops.extent ?? null,
    );
    map.on("postrender", () => {
      const resolution = map.getView().getResolution() ?? 0;
      drawBar(this.renderRoot, resolution, this.looks?.isDense(resolution) ?? false, this.system);
    });
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.restyle());
    this.restyle();
  }

  /** Lay the terrain under the plan: shading and contours; null takes them away. */
  async showTerrain(grid: Grid | null): Promise<void> {
    this.ground = grid;
    await this.under?.showTerrain(grid, this.system);
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
    this.under?.backdrops.restyle(ink("--soft"), paper);
    this.tellLooks();
    this.sources.repaint();
  }

  private get leavesOutLinePosts(): boolean {
    return !this.showsUse && (this.looks?.isDense(this.map?.getView().getResolution() ?? 0) ?? false);
  }

  private tellLooks(): void {
    if (!this.looks) return;
    this.looks.names = this.names;
    this.looks.used = this.showsUse
      ? new Map(this.model.posts.map((post) => [post.id, post.utilisation]))
      : null;
    this.looks.several = this.several;
    this.looks.bay_m = usualBay(this.model);
    this.looks.chosenRow = this.chosenRow;
    this.marks.point(new Set([this.chosen, this.hovered, ...this.several].filter(Boolean)));
  }

  override updated(changed: Map<string, unknown>): void {
    const before = changed.get("model") as PlanModel | undefined;
    if (changed.has("model")) this.fill(before ?? EMPTY_PLAN);
    if (changed.has("job") && this.job) this.under?.followJob(this.job);
    if (changed.has("system") && this.ground) void this.showTerrain(this.ground); // contours are of round numbers in it
    if (changed.has("tool")) this.dropSketch();
    const hasPosts = changed.has("model") && before?.posts !== this.model.posts;
    const isSeen = ["showsUse", "several", "chosen", "chosenRow", "hovered"].some((name) =>
      changed.has(name),
    );
    if (hasPosts || isSeen) this.tellLooks();
    if (isSeen || (hasPosts && this.showsUse)) this.sources.repaintMarks();
    if (changed.has("model")) this.map?.renderSync(); // the next frame then has that much less to do
  }

  private fill(before: PlanModel): void {
    const now = this.model;
    if (!this.hand?.isHolding) {
      const isLaid = this.laid.obstacles === now.obstacles;
      if (!isLaid) replace(this.sources.obstacles, obstacleMarks(now));
      if (!isLaid || this.laid.lines !== now.lines) replace(this.sources.lines, lineMarks(now));
      this.laid = now;
    }
    if (
      before.posts !== now.posts ||
      before.gates !== now.gates ||
      before.braces !== now.braces ||
      before.were !== now.were
    )
      this.marks.show(now);
    this.tellNames();
  }

  /** Where names stand depends on all that is drawn: who sees only some of it change is told. */
  private tellNames(): void {
    const { lines, obstacles } = this.laid;
    this.names = new PlanNames({ ...this.model, lines, obstacles }, this.names);
    if (this.looks) this.looks.names = this.names;
    if (this.hand?.isHolding) return; // what it moves is drawn anew anyway
    for (const source of [this.sources.obstacles, this.sources.lines]) source.changed();
  }

  /** Draw lines and what is in the way as the job has them, where a hand left something else. */
  settle(): void {
    replace(this.sources.obstacles, obstacleMarks(this.model));
    replace(this.sources.lines, lineMarks(this.model));
    this.laid = this.model;
    this.tellNames();
  }

  /** Show all of the job once; `name` says which job, so that an edit does not move the view. */
  fit(name: string, again = false): void {
    const legend = this.renderRoot.querySelector<HTMLElement>(".legend");
    const corner = legend && {
      width: legend.offsetLeft + legend.offsetWidth,
      height: legend.offsetTop + legend.offsetHeight,
    };
    this.framing?.fit(name, again, corner);
  }

  /** Where a point lies in the view. [pixels] */
  pixelOf(point: Point): number[] {
    return this.map?.getPixelFromCoordinate([...point]) ?? [0, 0];
  }

  /** Bring a place to the middle, near enough to read what stands there. */
  showPlace(point: Point): void {
    this.framing?.showPlace(point);
  }

  zoomBy(steps: number): void {
    this.map?.getView().adjustZoom(steps);
  }

  /** A thing was chosen from what lay under the last press. */
  chose(held: Held): void {
    this.hand?.chose(held);
  }

  /** Whether an obstacle's points stand in the job, not in a file. */
  isOwn(row: number): boolean {
    const rows = (this.job?.asked.obstacle ?? []) as { file?: string }[];
    return row >= 0 && row < rows.length && !rows[row]?.file;
  }

  /** Let go of what a hand drags, and leave it where it was; false where nothing is held. */
  letGo(): boolean {
    return this.hand?.cancel() ?? false;
  }

  tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** Add a leg by its length and bearing, and keep all that is drawn in sight. */
  addLeg(length_m: number, bearing_deg: number): void {
    this.sketching.addLeg(length_m, bearing_deg);
    this.framing?.holdPoints(this.drawn.points);
  }

  /** Take the last point back. */
  back(): void {
    this.sketching.back();
  }

  /** End the drawing; what was drawn is told, unless it is too little. */
  finish(closed = false): void {
    const drawn = this.drawnBy(closed);
    this.dropSketch();
    if (!drawn) return;
    if (this.framing) this.framing.hasDrawn = true;
    this.tell("drawn", drawn);
  }

  /** The drawing will probably end so. */
  expectEnd(closed: boolean): void {
    const drawn = this.drawnBy(closed);
    if (drawn) this.tell("drawn-soon", drawn);
  }

  /** What would be drawn if it ended here; null where it is too little, or only measured. */
  private drawnBy(closed: boolean): { tool: Tool; points: readonly Point[]; closed: boolean } | null {
    const { points } = this.drawn;
    const { tool } = this;
    if (tool === "measure" || points.length < (tool === "obstacle" ? 1 : 2)) return null;
    return { tool, points, closed: closed && points.length > 2 };
  }

  /** Have points in the hand again: what was drawn with them was refused. */
  takeUp(points: readonly Point[]): void {
    this.sketching.takeUp(points);
  }

  dropSketch(): void {
    this.sketching.drop();
  }

  private keyed = (event: KeyboardEvent): void => {
    if (event.key === "Escape" && this.letGo()) event.preventDefault();
    else if (event.key === "Escape" && this.drawn.points.length) this.dropSketch();
    else if (event.key === "Enter") this.finish();
    else if (event.key === "Backspace" && this.drawn.points.length) this.back();
    else if (event.key === "+" || event.key === "=") this.zoomBy(0.5);
    else if (event.key === "-") this.zoomBy(-0.5);
    else return;
    event.preventDefault();
  };

  override render(): TemplateResult {
    return html`<div class="map" tabindex="0" role="application" aria-label=${say("plan_label")} @keydown=${this.keyed} @pointerleave=${() => this.tell("post-hovered", "")}></div>
      ${bar()}
      ${this.showsUse ? useLegend() : nothing}
      ${this.dropping.isOver ? html`<div class="over">${say("drop_here")}</div>` : nothing}
      ${northArrow(this.north_deg)}`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-plan": FencePlan;
  }
}
