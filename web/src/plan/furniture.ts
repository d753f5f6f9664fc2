/** What lies on the plan's glass: the scale bar, the legend of utilisation, the way north. */

import { html, type TemplateResult } from "lit";
import { say } from "../texts/say.ts";
import { FOOT_M, type System } from "../units/show.ts";
import { USE_STEPS } from "./inks.ts";

const BAR_PX = 120;

/** Draw a scale bar of a round length, and say so where posts stand too close to be drawn one by one. */
export function drawBar(root: ParentNode, resolution: number, isDense: boolean, system: System): void {
  const stroke = root.querySelector<HTMLElement>(".bar i");
  const words = root.querySelector<HTMLElement>(".bar span");
  const dense = root.querySelector<HTMLElement>(".bar .dense");
  if (!resolution || !stroke || !words || !dense) return;
  const unit = system === "us" ? FOOT_M : 1;
  const most = (BAR_PX * resolution) / unit;
  const power = 10 ** Math.floor(Math.log10(most));
  const round = ([5, 2, 1].find((each) => each * power <= most) ?? 1) * power;
  const width = `${Math.round((round * unit) / resolution)}px`;
  const text = `${Number(round.toPrecision(2))} ${system === "us" ? "ft" : "m"}`;
  if (stroke.style.width !== width) stroke.style.width = width;
  if (words.textContent !== text) words.textContent = text;
  if (dense.hidden === isDense) dense.hidden = !isDense;
}

export function bar(): TemplateResult {
  return html`<div class="bar" aria-hidden="true"><div class="dense" hidden>${say("posts_as_band")}</div><span></span><i></i></div>`;
}

export function useLegend(): TemplateResult {
  const words = USE_STEPS.map((step, i) => {
    const from = `${Math.round((USE_STEPS[i - 1]?.upTo ?? 0) * 100)} %`;
    return Number.isFinite(step.upTo)
      ? `${from} – ${Math.round(step.upTo * 100)} %`
      : say("use_over", { share: from });
  });
  return html`<div class="legend"><strong>${say("utilisation")}</strong>${USE_STEPS.map((_, i) => html`<span><i class=${`u${i}`}></i>${words[i]}</span>`)}</div>`;
}

export function northArrow(north_deg: number): TemplateResult {
  return html`<svg class="north" viewBox="0 0 26 34" role="img" aria-label=${say("north")}>
        <g transform=${`rotate(${-north_deg} 13 17)`}><path d="M13 1 L19 22 L13 18 L7 22 Z" fill="currentColor" /><text x="13" y="33" text-anchor="middle" font-size="11" fill="currentColor">N</text></g></svg>`;
}
