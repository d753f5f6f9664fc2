/** The backgrounds of a job: each of its files that can lie under the plan, shown or not, and how strongly. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { BackgroundAnswer, Edit } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { type Backgrounds, TERRAIN } from "../state/backgrounds.ts";
import { inPage, langOf } from "../texts/program.ts";
import { say } from "../texts/say.ts";

@customElement("background-list")
export class BackgroundList extends LitElement {
  static override styles = [
    controls,
    css`
      section { border-top: 1px solid var(--line); padding: 0.4rem 0; }
      strong { overflow-wrap: anywhere; }
      .row { align-items: center; margin-top: 0.3rem; }
      .row > label.strength { flex: 1 1 13rem; display: flex; align-items: center; gap: 0.5rem; }
      input[type="range"] { flex: 1 1 5rem; width: 100%; padding: 0; border: 0; accent-color: var(--accent); }
      output { min-width: 3.2rem; text-align: right; font-variant-numeric: tabular-nums; }
    `,
  ];

  @property({ attribute: false }) backgrounds: Backgrounds | null = null;
  /** The job has ground that can be shaded. */
  @property({ type: Boolean }) hasTerrain = false;
  /** Drawn again with every change of what is shown. */
  @property({ type: Number }) tick = 0;
  @property({ type: Boolean }) locked = false;
  /** Files that hold ground. */
  @property({ attribute: false }) grounds: readonly string[] = [];

  override render(): TemplateResult | typeof nothing {
    const { backgrounds } = this;
    if (!backgrounds || (!this.hasTerrain && backgrounds.paths.length === 0)) return nothing;
    return html`<h3>${say("files_of_job")}</h3>
      ${this.hasTerrain ? this.one(backgrounds, TERRAIN, say("terrain_background")) : nothing}
      ${backgrounds.paths.map((path) => this.one(backgrounds, path, path))}`;
  }

  private one(backgrounds: Backgrounds, path: string, name: string): TemplateResult {
    const { isShown, opacity } = backgrounds.choice(path);
    const answer = backgrounds.answers.get(path);
    const percent = Math.round(opacity * 100);
    const canGo = answer !== undefined && answer.kind !== "none";
    return html`<section><strong>${name}</strong>
      <div class="row">
        <button aria-pressed=${isShown} aria-label=${say("on_plan_of", { name })} @click=${() => void backgrounds.show(path, !isShown)}>${say("on_plan")}</button>
        ${
          isShown
            ? html`<label class="strength"><span>${say("opacity")}</span><input type="range" min="10" max="100" step="5" .value=${String(percent)} aria-label=${say("opacity_of", { name })}
              @input=${(event: Event) => backgrounds.setOpacity(path, Number((event.target as HTMLInputElement).value) / 100)} /><output>${percent} %</output></label>`
            : nothing
        }
        ${canGo ? html`<button aria-label=${say("go_to_place_of", { name })} @click=${() => this.go(backgrounds, path)}>${say("go_to_place")}</button>` : nothing}
      </div>
      ${answer ? this.said(answer) : nothing}
      ${answer?.kind === "none" && this.grounds.includes(path) ? this.groundButton(path) : nothing}
      ${isShown && !answer && backgrounds.asking.get(path) ? html`<p class="quiet" role="status">${say("loading")}</p>` : nothing}</section>`;
  }

  /** Why a file cannot be shown, with the edits by which it can. */
  private said({ sentence, kind, plane, needs_unit }: BackgroundAnswer): TemplateResult | typeof nothing {
    if (!sentence) return nothing;
    const units = needs_unit ? (["ft", "m"] as const) : [];
    return html`<p class=${kind === "none" ? "refused" : "quiet"} role="status" lang=${langOf(sentence)}>${inPage(sentence)}</p>
      ${
        plane || needs_unit
          ? html`<div class="row">
        ${plane ? html`<button ?disabled=${this.locked} @click=${() => this.set("crs", plane)}>${say("take_plane", { plane })}</button>` : nothing}
        ${units.map((unit) => html`<button ?disabled=${this.locked} @click=${() => this.set("file_unit", unit)}>${say(`file_unit_${unit}`)}</button>`)}</div>`
          : nothing
      }`;
  }

  /** Heights are no picture: they can be the ground. */
  private groundButton(path: string): TemplateResult {
    const edit = { kind: "import_file", file: path, use: "ground" };
    return html`<div class="row"><button ?disabled=${this.locked} aria-label=${`${say("use_as_ground")}: ${path}`} @click=${() => this.ask(edit)}>${say("use_as_ground")}</button></div>`;
  }

  private go(backgrounds: Backgrounds, path: string): void {
    this.dispatchEvent(new CustomEvent("plan-wanted", { bubbles: true, composed: true }));
    backgrounds.go(path);
  }

  private set(key: string, value: string): void {
    this.ask({ kind: "set", path: ["site", key], value });
  }

  private ask(edit: Edit): void {
    this.dispatchEvent(new CustomEvent("edit-asked", { detail: { edit }, bubbles: true, composed: true }));
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "background-list": BackgroundList;
  }
}
