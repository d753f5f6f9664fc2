/** How the view is shared out among plan, long section and panel: dragged by hand, and kept for the next time. */

import type { ReactiveController, ReactiveControllerHost } from "lit";
import { html, type TemplateResult } from "lit";
import { say } from "../texts/say.ts";
import "./divider.ts";

/** One part at a time, with tabs; all stacked, as on a tablet held upright; or the panel beside the drawing. */
export const NARROW = "(max-width: 36rem), (max-width: 60rem) and (max-height: 48rem)";
export const STACKED = "(min-width: 36.01rem) and (max-width: 60rem) and (min-height: 48.01rem)";

const KEPT_AS = "fencewright-panes";
const LEAST_PX = { side: 320, section: 150, below: 220 };
/** What a plan keeps of its width and height whatever is asked. */
const PLAN_PX = { wide: 320, high: 220 };
const HEAD_PX = 130;

interface Sizes {
  /** Width of the panel, height of the section, height of the panel where all is stacked; 0: as it comes. [pixels] */
  side: number;
  section: number;
  below: number;
  isFolded: boolean;
}

const AS_IT_COMES: Sizes = { side: 0, section: 0, below: 0, isFolded: false };

export class Panes implements ReactiveController {
  private sizes = keptSizes();
  private readonly measures = {
    side: () => this.sizeOf("side"),
    section: () => this.sizeOf("section"),
    below: () => this.sizeOf("below"),
  };
  private readonly stacked = matchMedia(STACKED);

  constructor(private readonly host: ReactiveControllerHost & HTMLElement) {
    host.addController(this);
  }

  hostConnected(): void {
    this.stacked.addEventListener("change", this.again);
    window.addEventListener("resize", this.again);
  }

  hostDisconnected(): void {
    this.stacked.removeEventListener("change", this.again);
    window.removeEventListener("resize", this.again);
  }

  private again = (): void => this.host.requestUpdate();

  get isFolded(): boolean {
    return this.sizes.isFolded;
  }

  /** Fold the section to its strip, or unfold it. */
  fold(): void {
    this.keep({ isFolded: !this.sizes.isFolded });
  }

  /** Give the sizes to the grid. */
  hostUpdated(): void {
    const { style } = this.host;
    for (const name of ["side", "section", "below"] as const) {
      const isFolded = name === "section" && this.sizes.isFolded;
      const size = this.sizes[name] ? `${this.held(name, this.sizes[name])}px` : "";
      style.setProperty(`--${name}`, isFolded ? "auto" : size);
    }
  }

  /** The line between the drawing and the panel. */
  besideDivider(): TemplateResult {
    const isStacked = this.stacked.matches;
    return this.divider(isStacked ? "below" : "side", isStacked, "beside");
  }

  /** The line between plan and section. */
  sectionDivider(): TemplateResult {
    return this.divider("section", true, "between");
  }

  private divider(name: "side" | "section" | "below", lies: boolean, area: string): TemplateResult {
    const words = { side: "divide_side", section: "divide_section", below: "divide_below" } as const;
    return html`<pane-divider class=${area} ?lies=${lies} .words=${say(words[name])} .measure=${this.measures[name]} .least=${LEAST_PX[name]} .most=${this.mostOf(name)}
      @divided=${(event: CustomEvent<number>) => this.keep({ [name]: event.detail, ...(name === "section" ? { isFolded: false } : {}) })}
      @folded=${() => name === "section" && this.fold()}></pane-divider>`;
  }

  private sizeOf(name: "side" | "section" | "below"): number {
    if (name === "section" && this.sizes.isFolded) return LEAST_PX.section;
    if (this.sizes[name]) return this.held(name, this.sizes[name]);
    const part = (
      this.host as Partial<{ renderRoot: ParentNode }> & HTMLElement
    ).renderRoot?.querySelector<HTMLElement>(name === "section" ? ".section" : ".side");
    return (name === "side" ? part?.offsetWidth : part?.offsetHeight) ?? LEAST_PX[name];
  }

  private held(name: "side" | "section" | "below", size: number): number {
    return Math.min(this.mostOf(name), Math.max(LEAST_PX[name], size));
  }

  private mostOf(name: "side" | "section" | "below"): number {
    const { innerWidth, innerHeight } = window;
    const most = name === "side" ? innerWidth - PLAN_PX.wide : innerHeight - HEAD_PX - PLAN_PX.high;
    const isBoth = this.stacked.matches && name !== "side";
    const other = isBoth ? (name === "section" ? this.heightOf("below") : this.heightOf("section")) : 0;
    return Math.max(LEAST_PX[name], most - other);
  }

  private heightOf(name: "section" | "below"): number {
    return this.sizes[name] || LEAST_PX[name];
  }

  private keep(sizes: Partial<Sizes>): void {
    this.sizes = { ...this.sizes, ...sizes };
    try {
      localStorage.setItem(KEPT_AS, JSON.stringify(this.sizes));
    } catch {
      // they hold for this page alone
    }
    this.again();
  }
}

function keptSizes(): Sizes {
  try {
    const kept = JSON.parse(localStorage.getItem(KEPT_AS) ?? "{}") as Partial<Sizes>;
    const size = (value: unknown) => (typeof value === "number" && value > 0 ? value : 0);
    return {
      side: size(kept.side),
      section: size(kept.section),
      below: size(kept.below),
      isFolded: kept.isFolded === true,
    };
  } catch {
    return AS_IT_COMES;
  }
}
