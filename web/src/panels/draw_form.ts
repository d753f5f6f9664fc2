/** Beside a drawing tool: type a length and a bearing or a turn, take a point back, close, finish. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, query, state } from "lit/decorators.js";
import { bearingDeg, type Point, wrapDeg } from "../flat/bearing.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOfSaid } from "../texts/program.ts";
import { say } from "../texts/say.ts";
import { type System, showLong } from "../units/show.ts";
import { lengthRefused, typedLength } from "../units/typed_length.ts";
import { whenNear } from "./near.ts";
import { refusedWhole, type Told } from "./refused.ts";

export interface LegTyped {
  length_m: number;
  bearing_deg: number;
}

/** Kinds of obstacle that are areas as a rule: one left open has a way through. */
const AREAS: ReadonlySet<string> = new Set(["pond", "septic field", "building"]);

/** The bearing of what was typed: `90` from north, `R 45` or `L 45` from the last leg; NaN where it is neither. */
export function typedBearing(text: string, drawn: readonly Point[]): number {
  const turn = /^([lr])\s*(\d+(?:\.\d+)?)\s*°?$/i.exec(text.trim());
  const last = drawn.at(-1);
  const before = drawn.at(-2);
  if (turn) {
    if (!last || !before) return Number.NaN;
    return wrapDeg(bearingDeg(before, last) + (turn[1]?.toLowerCase() === "r" ? 1 : -1) * Number(turn[2]));
  }
  const plain = text.trim().replace(/°$/, "");
  return plain === "" ? Number.NaN : wrapDeg(Number(plain));
}

@customElement("draw-form")
export class DrawForm extends LitElement {
  static override styles = [
    controls,
    css`
      :host { display: block; }
      form { display: flex; flex-wrap: wrap; gap: 0.3rem 0.5rem; align-items: end; }
      .row { flex: 0 1 auto; gap: 0.4rem; }
      .leg { flex: 1 1 20rem; flex-wrap: nowrap; }
      .leg > label { flex: 1 1 5rem; }
      .kind { flex: 1 1 9rem; }
      label > span { font-size: 0.8rem; white-space: nowrap; }
      /* One line always: if it grew, the plan above it would lose what is under the hand. */
      .said { flex: 1 1 100%; margin: 0; height: 1.4rem; white-space: nowrap; overflow: hidden; text-overflow: ellipsis; }
      form > .refused { flex: 1 1 100%; margin: 0; }
      .opens { display: none; }
      @media (max-width: 36rem) {
        button { padding: 0 0.6rem; }
        .opens { display: inline-flex; }
        .leg[data-shut] { display: none; }
        .row.ends { flex: 1 1 100%; flex-wrap: wrap; }
        .row.ends > button { flex: 1 1 auto; }
      }
    `,
  ];

  @property({ attribute: false }) drawn: readonly Point[] = [];
  @property({ attribute: false }) leg: { length_m: number; bearing_deg: number; turn_deg: number } | null =
    null;
  /** Length of all that is drawn, to the hand. */
  @property({ type: Number }) total_m = 0;
  @property() system: System = "us";
  /** Why what is drawn could not be kept. */
  @property({ attribute: false }) told: Told | null = null;
  @property() tool = "draw";
  /** Kinds of obstacle to pick from. */
  @property({ attribute: false }) kinds: readonly string[] = [];
  @property() kind = "";
  @state() private refused = "";
  /** On a phone the fields open at a press: the hand draws, and the plan keeps its room. */
  @state() private types = false;
  @query("#length") private lengthField!: HTMLInputElement;
  @query("#bearing") private bearingField!: HTMLInputElement;

  override willUpdate(changed: Map<string, unknown>): void {
    if (changed.has("tool")) this.types = false;
  }

  private tell(name: string, detail: unknown = null): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  private add = (event: Event): void => {
    event.preventDefault();
    const length_m = typedLength(this.lengthField.value);
    const bearing_deg = typedBearing(this.bearingField.value, this.drawn);
    if (!(length_m > 0)) this.refused = lengthRefused(this.lengthField.value);
    else if (Number.isNaN(bearing_deg))
      this.refused = say("bearing_refused", { text: this.bearingField.value });
    else {
      this.refused = "";
      this.tell("leg-typed", { length_m, bearing_deg } satisfies LegTyped);
      this.lengthField.value = "";
      this.lengthField.focus();
    }
  };

  /** A button that ends the drawing, closed or as it is; the one that is usual for what is drawn stands out. */
  private end(closed: boolean, words: string, off: boolean): TemplateResult {
    const isUsual = closed === (this.tool === "obstacle" && AREAS.has(this.kind) && this.drawn.length > 2);
    return html`<button type="button" class=${isUsual ? "main" : ""} ?disabled=${off} ${whenNear(() => this.tell("drawing-near", closed))} @click=${() => this.tell("drawing-ended", closed)}>${words}</button>`;
  }

  override render(): TemplateResult {
    const count = this.drawn.length;
    return html`<form @submit=${this.add} aria-label=${say("type_a_leg")}>
      ${
        this.tool === "obstacle"
          ? html`<label class="kind" for="kind"><span>${say("obstacle_kind")}</span><select id="kind" @change=${(event: Event) => this.tell("kind-picked", (event.target as HTMLSelectElement).value)}>
        ${this.kinds.map((kind) => html`<option value=${kind} ?selected=${kind === this.kind}>${inPage(kind)}</option>`)}</select></label>`
          : nothing
      }
      <div class="row leg" ?data-shut=${!this.types}>
        <label for="length"><span>${say("length")}</span><input id="length" autocomplete="off" placeholder=${this.system === "us" ? "200 ft" : "60 m"} /></label>
        <label for="bearing"><span>${say("bearing_or_turn")}</span><input id="bearing" autocomplete="off" placeholder="90, R 90, L 45" /></label>
        <button>${say("add_leg")}</button>
      </div>
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : this.told ? refusedWhole(this.told, "job.toml") : nothing}
      <div class="row ends">
        <button type="button" class="opens" aria-expanded=${this.types} @click=${() => {
          this.types = !this.types;
        }}>${say("type_a_leg")}</button>
        <button type="button" ?disabled=${count === 0} @click=${() => this.tell("leg-back")}>${say("point_back")}</button>
        ${
          this.tool === "measure"
            ? nothing
            : html`
          ${this.end(true, say("close_and_keep"), count < 3)}
          ${this.end(false, say("keep_open"), count < (this.tool === "obstacle" ? 1 : 2))}`
        }
      </div>
      <p class="quiet said" role="status">${count === 1 ? say("point_drawn") : say("points_drawn", { count })}${this.leg ? ` · ${showLong(this.leg.length_m, this.system)} · ${this.leg.bearing_deg.toFixed(1)}°` : ""}${this.total_m ? ` · ${say("in_all", { length: showLong(this.total_m, this.system) })}` : ""}</p>
    </form>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "draw-form": DrawForm;
  }
}
