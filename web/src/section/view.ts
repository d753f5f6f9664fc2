/** The long section as a thing on the page: hover, choose, drag a top in its band, zoom and pan along the line. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { afterFrame } from "../state/after_frame.ts";
import { say } from "../texts/say.ts";
import { type System, showLong, showSmall } from "../units/show.ts";
import { type Inks, inksOf } from "./board.ts";
import { drawSection } from "./drawing.ts";
import { SectionHand, type Touch } from "./hand.ts";
import {
  elevations,
  heldToBand,
  isSameDrawing,
  type SectionLine,
  type SectionPost,
  stationAlong,
} from "./model.ts";
import { type Frame, type SectionScale, sectionScale } from "./scale.ts";
import { heldInside, type Shown, zoomedAbout } from "./window.ts";
import { saidOf } from "./words.ts";

const MARGIN = { left: 52, right: 30, top: 26, bottom: 24 };

@customElement("fence-section")
export class FenceSection extends LitElement {
  static override styles = css`
    :host { display: grid; grid-template-rows: auto minmax(0, 1fr); }
    :host([folded]) .board { display: none; }
    .strip { display: flex; gap: 0.3rem; align-items: center; padding: 0.1rem 0.4rem; border-bottom: 1px solid var(--line); }
    .strip ::slotted(*) { min-width: 0; }
    button { font: inherit; color: var(--ink); background: var(--paper); border: 1px solid var(--soft); border-radius: 4px; min-height: 2.75rem; min-width: 2.75rem; cursor: pointer; }
    button:hover { border-color: var(--accent); }
    button:focus-visible { outline: 3px solid var(--accent); outline-offset: 1px; }
    .board { position: relative; min-height: 0; }
    canvas { position: absolute; inset: 0; width: 100%; height: 100%; display: block; touch-action: none; }
    canvas:focus-visible { outline: 3px solid var(--accent); outline-offset: -3px; }
    p { margin: 0 0.3rem 0 auto; font-size: 0.85rem; color: var(--soft); white-space: nowrap; }
  `;

  @property({ attribute: false }) line: SectionLine | null = null;
  @property() system: System = "us";
  /** Id of the post chosen, and of the one under the hand, on plan or section. */
  @property() selected = "";
  @property() hovered = "";
  @property({ type: Boolean }) locked = false;
  /** Only its strip is shown. */
  @property({ type: Boolean, reflect: true }) folded = false;
  /** It stands beside others, to which it may give its room. */
  @property({ type: Boolean }) foldable = false;
  @state() private exaggeration = 1;
  /** The part that is shown; null: all of the line. */
  @state() private zoomed: Shown | null = null;
  @query("canvas") private canvas!: HTMLCanvasElement;
  @query(".board") private board!: HTMLElement;

  frame: Frame = { left: 0, top: 0, width: 1, height: 1 };
  scale: SectionScale | null = null;
  private readonly hand = new SectionHand(this);
  private asked = 0;
  /** What an arrow did last: as a rule it is pressed again. */
  private nudged = { post: "", by: 0 };
  /** Something that is drawn is another than before. */
  private isToDraw = false;
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
    if (changed.has("line") && before?.name !== this.line?.name) this.zoomed = null;
    this.isToDraw ||=
      DRAWN.some((name) => changed.has(name)) || (changed.has("line") && !isSameDrawing(before, this.line));
    if (changed.has("line") && this.hand.settled()) this.isToDraw = true;
    if (changed.has("selected")) {
      this.nudged = { post: "", by: 0 };
      this.reveal();
    }
  }

  /** An answer is drawn at once: the next frame then has that much less to do. The first one waits for the plan's. */
  override updated(changed: Map<string, unknown>): void {
    if (this.isToDraw && changed.has("line") && !changed.get("line")) afterFrame(() => this.drawNow());
    else if (this.isToDraw && changed.has("line")) this.drawNow();
    else if (this.isToDraw) this.redraw();
    this.isToDraw = false;
    const { post, by } = this.nudged;
    if (!changed.has("line") || !post) return;
    if (post === this.selected && this.renderRoot.querySelector("canvas:focus")) this.nudge(by, "top-near");
  }

  /** Read the inks again after the shade has changed. */
  restyle(): void {
    this.kept = null;
    this.redraw();
  }

  /** Draw in the next frame, once however often it is asked. */
  redraw(): void {
    if (this.asked) return;
    this.asked = requestAnimationFrame(() => this.drawNow());
  }

  private drawNow(): void {
    cancelAnimationFrame(this.asked);
    this.asked = 0;
    this.draw();
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
    const stations = this.shown;
    const heights = elevations(this.line, stations.low, stations.high);
    const room = (heights.high - heights.low) * 0.06 + 0.05;
    this.scale = sectionScale(stations, { low: heights.low - room, high: heights.high + room }, this.frame);
    this.exaggeration = this.scale.exaggeration;
    const marked = {
      hovered: this.placeOf(this.hovered),
      selected: this.placeOf(this.selected),
      dragged: this.hand.dragged,
      shifted: this.hand.shifted,
    };
    const { line, scale, frame, system } = this;
    drawSection({ brush, line, scale, frame, inks: this.inks(), marked, system });
  }

  private inks(): Inks {
    this.kept ??= inksOf(this);
    return this.kept;
  }

  private placeOf(id: string): number {
    return id && this.line ? this.line.posts.findIndex((post) => post.id === id) : -1;
  }

  tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  get shown(): Shown {
    return this.zoomed ?? { low: 0, high: this.line?.length_m ?? 1 };
  }

  /** Show a part of the line, held to its length. */
  show(shown: Shown): void {
    const length_m = this.line?.length_m ?? 1;
    const held = heldInside(shown, length_m);
    this.zoomed = held.high - held.low >= length_m ? null : held;
  }

  /** Bring the chosen post into the part that is shown. */
  private reveal(): void {
    const station_m = this.line?.posts[this.placeOf(this.selected)]?.station_m;
    const { low, high } = this.shown;
    if (station_m === undefined || !this.zoomed || (station_m >= low && station_m <= high)) return;
    const half = (high - low) / 2;
    this.show({ low: station_m - half, high: station_m + half });
  }

  private pressed = (event: PointerEvent): void => {
    this.canvas.focus();
    this.canvas.setPointerCapture(event.pointerId);
    this.hand.pressed(touchOf(event));
  };

  private moved = (event: PointerEvent): void => {
    const touch = touchOf(event);
    this.hand.moved(touch);
    if (event.buttons || touch.isFinger) return;
    this.canvas.style.cursor = CURSORS[this.hand.gripAt(touch)];
    this.tell("post-hovered", this.line?.posts[this.hand.placeUnder(touch)]?.id ?? "");
  };

  private wheeled = (event: WheelEvent): void => {
    event.preventDefault();
    const line_px = event.deltaMode === WheelEvent.DOM_DELTA_LINE ? 16 : 1;
    const [across, down] = event.shiftKey ? [event.deltaX || event.deltaY, 0] : [event.deltaX, event.deltaY];
    this.hand.wheeled({
      x: event.offsetX,
      across_px: across * line_px,
      turned_px: down * line_px,
      isPinch: event.ctrlKey,
    });
  };

  private zoom(factor: number): void {
    const { low, high } = this.shown;
    const chosen_m = this.line?.posts[this.placeOf(this.selected)]?.station_m;
    const isSeen = chosen_m !== undefined && chosen_m >= low && chosen_m <= high;
    this.show(
      zoomedAbout(this.shown, isSeen ? chosen_m : (low + high) / 2, factor, this.line?.length_m ?? 1),
    );
  }

  private keyed = (event: KeyboardEvent): void => {
    const { key } = event;
    const across = key === "ArrowRight" ? 1 : key === "ArrowLeft" ? -1 : 0;
    if (!this.line || event.ctrlKey || event.metaKey) return;
    if (key === "+" || key === "=") this.zoom(0.5);
    else if (key === "-") this.zoom(2);
    else if (across && event.altKey) this.shift(across);
    else if (across) this.step(across);
    else if (key === "Home" || key === "End") this.step(key === "Home" ? -Infinity : Infinity);
    else if (key === "ArrowUp" || key === "ArrowDown") this.nudge(key === "ArrowUp" ? 1 : -1);
    else if (key.toLowerCase() === "p") this.pin();
    else if (key === "Escape" && this.hand.isHolding) this.hand.cancelled();
    else return;
    event.preventDefault();
  };

  private step(by: number): void {
    const posts = this.line?.posts ?? [];
    const place = this.placeOf(this.selected);
    const isClosed = posts.length > 1 && posts[0]?.id === posts.at(-1)?.id; // its last post is its first again
    const last = Number.isFinite(by) && isClosed ? posts.length - 1 : posts.length - (isClosed ? 2 : 1);
    const next = posts[Math.min(last, Math.max(0, place + by))];
    if (next) this.tell("post-chosen", next.id);
  }

  /** Move the chosen post along the line by an inch or two centimetres. */
  private shift(by: number): void {
    if (this.selected && !this.locked)
      this.tell("post-shifted", { post: this.selected, by_m: by * (this.system === "us" ? 0.0254 : 0.02) });
  }

  /** Move the chosen top by a quarter inch or five millimetres, in its band; or say that it will probably be. */
  private nudge(by: number, name: "top-set" | "top-near" = "top-set"): void {
    const post = this.line?.posts[this.placeOf(this.selected)];
    if (!post || this.locked) return;
    this.nudged = { post: post.id, by };
    const top_m = heldToBand(post, post.top_m + by * (this.system === "us" ? 0.00635 : 0.005));
    if (top_m !== post.top_m) this.tell(name, { post: post.id, top_m, height_m: top_m - post.ground_m });
  }

  /** The chosen post for a screen reader, with the keys that work on it. */
  private saidOf(post: SectionPost, line: SectionLine): string {
    const station_m = stationAlong(line, post.station_m);
    const [, more] = saidOf(post, station_m, post.top_m, this.system);
    return say("section_post", {
      post: post.id,
      station: showLong(station_m, this.system),
      height: showSmall(post.top_m - post.ground_m, this.system),
      more: [more ?? "", post.isPinned ? say("pinned") : ""].map((words) => words && `, ${words}`).join(""),
    });
  }

  /** Pin the chosen top where it is, or let a pinned one flow again. */
  private pin(): void {
    const post = this.line?.posts[this.placeOf(this.selected)];
    if (!post || this.locked) return;
    if (post.isPinned) this.tell("top-freed", post.id);
    else this.tell("top-set", { post: post.id, top_m: post.top_m, height_m: post.top_m - post.ground_m });
  }

  override render(): TemplateResult {
    const post = this.line?.posts[this.placeOf(this.selected)];
    const said = post && this.line ? this.saidOf(post, this.line) : say("section_hint");
    return html`<div class="strip"><slot></slot>
        <button aria-label=${say("section_nearer")} @click=${() => this.zoom(0.5)}>+</button>
        <button aria-label=${say("section_farther")} @click=${() => this.zoom(2)}>−</button>
        <p>${say("exaggerated", { times: this.exaggeration.toFixed(this.exaggeration < 10 ? 1 : 0) })}</p>
        ${this.foldable ? html`<button aria-expanded=${!this.folded} aria-label=${say(this.folded ? "unfold_section" : "fold_section")} @click=${() => this.tell("section-folded", null)}>${this.folded ? "▴" : "▾"}</button>` : nothing}</div>
      <div class="board"><canvas tabindex="0" role="application" aria-roledescription=${say("section")}
        aria-label=${`${say("section_of", { line: this.line?.name ?? "" })}. ${said}`}
        @pointerdown=${this.pressed} @pointermove=${this.moved} @pointerup=${(event: PointerEvent) => this.hand.released(touchOf(event))}
        @pointercancel=${() => this.hand.cancelled()} @pointerleave=${() => this.tell("post-hovered", "")} @keydown=${this.keyed}></canvas></div>`;
  }
}

/** What is drawn, beside the line itself. */
const DRAWN: readonly string[] = ["system", "selected", "hovered", "zoomed"];

const CURSORS = { top: "ns-resize", foot: "ew-resize", board: "" };

function touchOf(event: PointerEvent): Touch {
  return {
    id: event.pointerId,
    x: event.offsetX,
    y: event.offsetY,
    isFinger: event.pointerType === "touch",
  };
}

declare global {
  interface HTMLElementTagNameMap {
    "fence-section": FenceSection;
  }
}
