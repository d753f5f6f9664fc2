/** The tools of the plan: which one is in the hand, the form of the one that draws, and the controls that lie on the plan. */

import { html, nothing, type TemplateResult } from "lit";
import type { LegTyped } from "../panels/draw_form.ts";
import type { Told } from "../panels/refused.ts";
import type { Tool } from "../plan/hands.ts";
import type { FencePlan } from "../plan/view.ts";
import { say } from "../texts/say.ts";
import type { System } from "../units/show.ts";
import "../panels/draw_form.ts";

const TOOLS: readonly Tool[] = ["choose", "draw", "obstacle", "measure", "box"];
/** Tools that change nothing: they work without the server too. */
const READING: ReadonlySet<Tool> = new Set(["choose", "measure", "box"]);

/** What is being drawn, as the plan tells it. */
export interface Drawing {
  points: number;
  leg: { length_m: number; bearing_deg: number; turn_deg: number } | null;
  total_m: number;
}

export const NO_DRAWING: Drawing = { points: 0, leg: null, total_m: 0 };

export function toolBar(inHand: Tool, locked: boolean, take: (tool: Tool) => void): TemplateResult {
  return html`<div class="tools" role="toolbar" aria-label=${say("tools")}>
        ${TOOLS.map(
          (tool) =>
            html`<button aria-pressed=${inHand === tool} ?disabled=${locked && !READING.has(tool)} @click=${() => take(tool)} aria-label=${say(`tool_${tool}`)}><span class="long">${say(`tool_${tool}`)}</span><span class="short">${say(`tool_${tool}_short`)}</span></button>`,
        )}
      </div>`;
}

/** The tool in the hand, and what is drawn with it on the plan. */
export interface InHand {
  tool: Tool;
  plan: FencePlan | null;
  drawing: Drawing;
  /** Why what is drawn could not be kept. */
  refused: Told | null;
  system: System;
  /** Kinds of obstacle to pick from, and the one that is picked. */
  kinds: readonly string[];
  kind: string;
}

/** The form of the tool in the hand. */
export function toolForm(inHand: InHand, pick: (kind: string) => void): TemplateResult | typeof nothing {
  const { tool, plan, drawing, refused, system, kinds, kind } = inHand;
  if (tool === "choose") return nothing;
  if (tool === "box") return html`<div class="drawing"><p class="quiet">${say("box_hint")}</p></div>`;
  return html`<div class="drawing"><draw-form .tool=${tool} .drawn=${plan?.drawn.points ?? []} .told=${refused} .leg=${drawing.leg} .total_m=${drawing.total_m} .system=${system}
        .kinds=${kinds} .kind=${kind}
        @kind-picked=${(event: CustomEvent<string>) => pick(event.detail)}
        @leg-typed=${(event: CustomEvent<LegTyped>) => plan?.addLeg(event.detail.length_m, event.detail.bearing_deg)}
        @leg-back=${() => plan?.back()}
        @drawing-near=${(event: CustomEvent<boolean>) => plan?.expectEnd(event.detail)}
        @drawing-ended=${(event: CustomEvent<boolean>) => plan?.finish(event.detail)}></draw-form></div>`;
}

/** Controls that lie on the plan: they stay in reach on a phone. */
export function glassOf(
  catching: boolean,
  setCatching: (catches: boolean) => void,
  showsUse: boolean,
  setUse: (shows: boolean) => void,
  fit: () => void,
  zoom: (steps: number) => void,
): TemplateResult {
  return html`<div class="glass">
      <button aria-pressed=${catching} aria-label=${say("catching_label")} title=${say("catching_label")} @click=${() => setCatching(!catching)}>${say("catching")}</button>
      <button aria-pressed=${showsUse} @click=${() => setUse(!showsUse)}>${say("utilisation")}</button>
      <button @click=${fit}>${say("show_all")}</button>
      <button aria-label=${say("nearer")} @click=${() => zoom(0.7)}>+</button>
      <button aria-label=${say("farther")} @click=${() => zoom(-0.7)}>−</button></div>`;
}

/** On a narrow screen: what is chosen, what else lies there, and the way to its numbers. */
export function pickedOf(
  words: string,
  next: string,
  choose: () => void,
  show: () => void,
): TemplateResult | typeof nothing {
  if (!words) return nothing;
  const other = next
    ? html`<button class="next" aria-label=${say("next_here", { name: next })} title=${say("press_again")} @click=${choose}><span>${next}</span> ›</button>`
    : nothing;
  return html`<div class="picked"><strong>${words}</strong>${other}<button class="main" @click=${show}>${say("its_numbers")}</button></div>`;
}

/** Which line the long section shows, where there are several. */
export function lineChoice(
  lines: readonly string[],
  shown: string,
  show: (line: string) => void,
): TemplateResult | typeof nothing {
  if (lines.length < 2) return nothing;
  return html`<label for="section-line"><span class="only-heard">${say("line")}</span><select id="section-line" @change=${(event: Event) => show((event.target as HTMLSelectElement).value)}>
      ${lines.map((name) => html`<option value=${name} ?selected=${name === shown}>${name}</option>`)}</select></label>`;
}
