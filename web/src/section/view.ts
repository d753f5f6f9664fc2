/** The long section as a thing on the page: hover, choose, drag a top in its band, zoom and pan along the line. */

import { css, html, LitElement, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { say } from "../texts/say.ts";
import { type System, showLong, showSmall } from "../units/show.ts";
import { drawSection, type Inks, type Marked } from "./drawing.ts";
import { elevations, heldToBand, nearestPost, type SectionLine, stationAlong } from "./model.ts";
import { type Frame, type SectionScale, sectionScale } from "./scale.ts";

const REACH_PX = 22;
const MARGIN = { left: 52, right: 30, top: 26, bottom: 24 };

@customElement("fence-section")
export class FenceSection extends LitElement {
  static override styles = css`
    :host { display: grid; grid-template-rows: auto minmax(0, 1fr); min-height: 12rem; }
    .strip { display: flex; gap: 0.3rem; align-items: center; padding: 0.2rem 0.4rem; border-bottom: 1px solid var(--line); }
    .strip ::slotted(*) { min-width: 0; }
    button { font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--soft); border-radius: 4px; min-height: 2.75rem; min-width: 2.75rem; cursor: pointer; }
    button:hover { border-color: var(--accent); }
    button:focus-visible { outline: 3px solid var(--accent); outline-offset: 1px; }
    .board { position: relative; min-height: 0; }
    canvas { position: absolute; inset: 0; width: 100%; height: 100%; display: block; touch-action: pan-y; }
    canvas:focus-visible { outline: 3px solid var(--accent); outline-offset: -3px; }
    p { margin: 0 0.3rem 0 auto; font-size: 0.85rem; color: var(--soft); white-space: nowrap; }
  `;

  @property({ attribute: false }) line: SectionLine | null = null;
  @property() system: System = "us";
  /** Id of the post chosen, and of the one under the hand, on plan or section. */
  @property() selected = "";
  @property() hovered = "";
  @property({ type: Boolean }) locked = false;
  @state() private exaggeration = 1;
  @state() private window: { low: number; high: number } | null = null;
  @query("canvas") private canvas!: HTMLCanvasElement;
  @query(".board") private board!: HTMLElement;

  private dragged: Marked["dragged"] = null;
  /** The hand is still down: answers that come meanwhile do not take the top out of it. */
  private isHeld = false;
  /** Elevation of the top as it was taken. [m] */
  private taken_m = 0;
  /** A post held by its foot, to be moved along the line. */
  private shifted: { id: string; from: number; by_m: number } | null = null;
  private panned: { x: number; low: number; high: number } | null = null;
  private frame: Frame = { left: 0, top: 0, width: 1, height: 1 };
  private scale: SectionScale | null = null;
  private asked = 0;
  private size = { width: 0, height: 0 };
  private kept: Inks | null = null;
  private readonly watcher = new ResizeObserver(([entry]) => {
    if (entry) this.size = entry.contentRect;
    this.redraw();
  });

  override firstUpdated(): void {
    this.watcher.observe(this.board);
    matchMedia("(prefers-color-scheme: dark)").addEventListener("change", () => this.restyle());
    this.canvas.addEventListener("wheel", this.wheeled, { passive: false });
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.watcher.disconnect();
  }

  override willUpdate(changed: Map<string, unknown>): void {
    const before = changed.get("line") as SectionLine | null | undefined;
    if (changed.has("line") && before?.name !== this.line?.name) this.window = null;
    if (changed.has("line") && !this.isHeld) this.dragged = null;
  }

  override updated(): void {
    this.redraw();
  }

  /** Read the inks again after the shade has changed. */
  restyle(): void {
    this.kept = null;
    this.redraw();
  }

  /** Draw in the next frame, once however often it is asked. */
  redraw(): void {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => {
      this.asked = 0;
      this.draw();
    });
  }

  private draw(): void {
    const box = this.size;
    const brush = this.canvas.getContext("2d");
    if (!brush || box.width < 40 || box.height < 40) return;
    const sharp = window.devicePixelRatio || 1;
    const [width, height] = [Math.round(box.width * sharp), Math.round(box.height * sharp)];
    if (this.canvas.width !== width) this.canvas.width = width;
    if (this.canvas.height !== height) this.canvas.height = height;
    brush.setTransform(sharp, 0, 0, sharp, 0, 0);
    brush.clearRect(0, 0, box.width, box.height);
    if (!this.line) return;
    this.frame = {
      left: MARGIN.left,
      top: MARGIN.top,
      width: box.width - MARGIN.left - MARGIN.right,
      height: box.height - MARGIN.top - MARGIN.bottom,
    };
    const stations = this.window ?? { low: 0, high: this.line.length_m };
    const heights = elevations(this.line, stations.low, stations.high);
    const room = (heights.high - heights.low) * 0.08 + 0.1;
    this.scale = sectionScale(stations, { low: heights.low - room, high: heights.high + room }, this.frame);
    this.exaggeration = this.scale.exaggeration;
    const marked = {
      hovered: this.placeOf(this.hovered),
      selected: this.placeOf(this.selected),
      dragged: this.dragged,
    };
    drawSection(brush, this.line, this.scale, this.frame, this.inks(), marked, this.system);
  }

  private inks(): Inks {
    this.kept ??= this.readInks();
    return this.kept;
  }

  private readInks(): Inks {
    const style = getComputedStyle(this);
    const ink = (name: string) => style.getPropertyValue(name).trim() || "#000";
    return {
      ink: ink("--ink"),
      soft: ink("--soft"),
      line: ink("--line"),
      faint: ink("--faint"),
      paper: ink("--paper"),
      accent: ink("--accent"),
      ground: ink("--ground"),
      ground_ink: ink("--ground-ink"),
      band: ink("--band"),
      rail: ink("--rail"),
    };
  }

  private placeOf(id: string): number {
    return id && this.line ? this.line.posts.findIndex((post) => post.id === id) : -1;
  }

  private placeUnder(event: PointerEvent): number {
    if (!this.scale || !this.line) return -1;
    return nearestPost(this.line, this.scale.stationAt(event.offsetX), REACH_PX / this.scale.across_per_m);
  }

  private tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  private pressed = (event: PointerEvent): void => {
    this.canvas.focus();
    const place = this.placeUnder(event);
    const post = this.line?.posts[place];
    this.canvas.setPointerCapture(event.pointerId);
    if (post && this.scale) {
      this.tell("post-chosen", post.id);
      const nearTop = Math.abs(event.offsetY - this.scale.up(post.top_m)) < REACH_PX;
      const isInGround = event.offsetY > this.scale.up(post.ground_m);
      if (!nearTop && isInGround && !this.locked)
        this.shifted = { id: post.id, from: event.offsetX, by_m: 0 };
      if (nearTop && !this.locked) {
        this.dragged = { place, top_m: post.top_m };
        this.isHeld = true;
        this.taken_m = post.top_m;
      }
    } else {
      this.panned = { x: event.offsetX, ...(this.window ?? { low: 0, high: this.line?.length_m ?? 1 }) };
    }
    this.redraw();
  };

  private moved = (event: PointerEvent): void => {
    if (!this.scale || !this.line) return;
    if (this.dragged) {
      const post = this.line.posts[this.dragged.place];
      if (!post) return;
      const top_m = heldToBand(post, this.scale.elevationAt(event.offsetY));
      this.dragged = { place: this.dragged.place, top_m };
      this.tell("top-dragged", { post: post.id, top_m, height_m: top_m - post.ground_m });
      this.redraw();
    } else if (this.shifted) {
      this.shifted.by_m = (event.offsetX - this.shifted.from) / this.scale.across_per_m;
      this.canvas.style.cursor = "ew-resize";
    } else if (this.panned) {
      const shift = (this.panned.x - event.offsetX) / this.scale.across_per_m;
      this.show(this.panned.low + shift, this.panned.high + shift);
    } else {
      this.tell("post-hovered", this.line.posts[this.placeUnder(event)]?.id ?? "");
    }
  };

  private released = (): void => {
    const post = this.dragged && this.line?.posts[this.dragged.place];
    this.isHeld = false;
    const { shifted } = this;
    this.shifted = null;
    this.canvas.style.cursor = "";
    if (shifted && Math.abs(shifted.by_m) * (this.scale?.across_per_m ?? 0) > 6)
      this.tell("post-shifted", { post: shifted.id, by_m: shifted.by_m });
    if (post && this.dragged && Math.abs(this.dragged.top_m - this.taken_m) > 5e-4) {
      this.tell("top-set", {
        post: post.id,
        top_m: this.dragged.top_m,
        height_m: this.dragged.top_m - post.ground_m,
      });
    } else {
      this.dragged = null;
    }
    this.panned = null;
    this.redraw();
  };

  private wheeled = (event: WheelEvent): void => {
    if (!this.scale || !this.line) return;
    event.preventDefault();
    const { low, high } = this.window ?? { low: 0, high: this.line.length_m };
    const centre = this.scale.stationAt(event.offsetX);
    const factor = Math.exp(Math.max(-1, Math.min(1, event.deltaY / 300)));
    this.show(centre - (centre - low) * factor, centre + (high - centre) * factor);
  };

  /** Show a part of the line, held to its length and to a metre at least. */
  private show(low: number, high: number): void {
    const length = this.line?.length_m ?? 1;
    const wide = Math.min(Math.max(high - low, Math.min(5, length)), length);
    const from = Math.min(Math.max(0, low), length - wide);
    this.window = wide >= length ? null : { low: from, high: from + wide };
  }

  private zoom(factor: number): void {
    const { low, high } = this.window ?? { low: 0, high: this.line?.length_m ?? 1 };
    const chosen = this.line?.posts[this.placeOf(this.selected)]?.station_m;
    const middle = chosen !== undefined && chosen >= low && chosen <= high ? chosen : (low + high) / 2;
    this.show(middle - ((high - low) / 2) * factor, middle + ((high - low) / 2) * factor);
  }

  private keyed = (event: KeyboardEvent): void => {
    if (!this.line) return;
    if (event.key === "+" || event.key === "=") this.zoom(0.5);
    else if (event.key === "-") this.zoom(2);
    else if (event.altKey && (event.key === "ArrowLeft" || event.key === "ArrowRight"))
      this.shift(event.key === "ArrowRight" ? 1 : -1);
    else if (event.key === "ArrowLeft" || event.key === "ArrowRight")
      this.step(event.key === "ArrowRight" ? 1 : -1);
    else if (event.key === "ArrowUp" || event.key === "ArrowDown")
      this.nudge(event.key === "ArrowUp" ? 1 : -1);
    else return;
    event.preventDefault();
  };

  private step(by: number): void {
    const posts = this.line?.posts ?? [];
    const place = this.placeOf(this.selected);
    const next = posts[Math.min(posts.length - 1, Math.max(0, place + by))];
    if (next) this.tell("post-chosen", next.id);
  }

  /** Move the chosen post along the line by an inch or two centimetres. */
  private shift(by: number): void {
    if (this.selected && !this.locked)
      this.tell("post-shifted", { post: this.selected, by_m: by * (this.system === "us" ? 0.0254 : 0.02) });
  }

  /** Move the chosen top by a quarter inch or five millimetres, in its band. */
  private nudge(by: number): void {
    const post = this.line?.posts[this.placeOf(this.selected)];
    if (!post || this.locked) return;
    const top_m = heldToBand(post, post.top_m + by * (this.system === "us" ? 0.00635 : 0.005));
    if (top_m !== post.top_m) this.tell("top-set", { post: post.id, top_m, height_m: top_m - post.ground_m });
  }

  override render(): TemplateResult {
    const post = this.line?.posts[this.placeOf(this.selected)];
    const said = post
      ? say("section_post", {
          post: post.id,
          station: showLong(this.line ? stationAlong(this.line, post.station_m) : null, this.system),
          height: showSmall(post.top_m - post.ground_m, this.system),
        })
      : say("section_hint");
    return html`<div class="strip"><slot></slot>
        <button aria-label=${say("section_nearer")} @click=${() => this.zoom(0.5)}>+</button>
        <button aria-label=${say("section_farther")} @click=${() => this.zoom(2)}>−</button>
        <p>${say("exaggerated", { times: this.exaggeration.toFixed(this.exaggeration < 10 ? 1 : 0) })}</p></div>
      <div class="board"><canvas tabindex="0" role="application" aria-roledescription=${say("section")}
        aria-label=${`${say("section_of", { line: this.line?.name ?? "" })}. ${said}`}
        @pointerdown=${this.pressed} @pointermove=${this.moved} @pointerup=${this.released}
        @pointercancel=${this.released} @pointerleave=${() => this.tell("post-hovered", "")} @keydown=${this.keyed}></canvas></div>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-section": FenceSection;
  }
}
