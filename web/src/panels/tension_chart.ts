/** The chart for the day: rail temperature at pulling, tension to pull to, and the window around it. */

import { css, html, LitElement, nothing, svg, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { TensionRow } from "../api/records.ts";
import { axisSteps } from "../section/scale.ts";
import { say } from "../texts/say.ts";
import { type System, showForce, showTemperature } from "../units/show.ts";

const WIDTH = 560;
const HEIGHT = 300;
const MARGIN = { left: 64, right: 16, top: 14, bottom: 40 };
const POUND_FORCE_N = 4.4482216152605;

interface Day {
  temperature_c: number;
  tension_n: number | null;
  low_n: number;
  high_n: number;
}

@customElement("tension-chart")
export class TensionChart extends LitElement {
  static override styles = css`
    :host { display: block; max-width: 46rem; }
    svg { width: 100%; height: auto; display: block; font-size: 13px; }
    text { fill: var(--ink); font-variant-numeric: tabular-nums; }
    .grid { stroke: var(--line); stroke-width: 0.6; }
    .window { fill: var(--band); stroke: var(--soft); stroke-width: 0.8; stroke-dasharray: 4 3; }
    .tension { fill: none; stroke: var(--accent); stroke-width: 2.5; }
    .dot { fill: var(--paper); stroke: var(--accent); stroke-width: 2; }
  `;

  @property({ attribute: false }) row: TensionRow | null = null;
  @property() system: System = "us";

  override render(): TemplateResult | typeof nothing {
    const days = daysOf(this.row);
    if (!this.row || days.length < 2) return nothing;
    const unit = this.system === "us" ? POUND_FORCE_N : 1;
    const warm = (value: number) => (this.system === "us" ? value * 1.8 + 32 : value);
    const cold_c = days[0]?.temperature_c ?? 0;
    const hot_c = days.at(-1)?.temperature_c ?? 1;
    const most = (Math.max(...days.map((day) => Math.max(day.high_n, day.tension_n ?? 0))) * 1.08) / unit;
    const x = (temperature_c: number) =>
      MARGIN.left + ((temperature_c - cold_c) / (hot_c - cold_c)) * (WIDTH - MARGIN.left - MARGIN.right);
    const y = (force_n: number) =>
      HEIGHT - MARGIN.bottom - (force_n / unit / most) * (HEIGHT - MARGIN.top - MARGIN.bottom);
    const upper = days.map((day) => `${x(day.temperature_c)},${y(day.high_n)}`);
    const lower = days
      .map((day) => `${x(day.temperature_c)},${y(Math.min(day.low_n, day.high_n))}`)
      .reverse();
    const known = days.filter((day) => day.tension_n !== null);
    const curve = known.map((day) => `${x(day.temperature_c)},${y(day.tension_n ?? 0)}`).join(" ");
    const said = known
      .map(
        (day) =>
          `${showTemperature(day.temperature_c, this.system)}: ${showForce(day.tension_n, this.system)}`,
      )
      .join("; ");
    return html`<svg viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label=${`${say("chart_of", { pull: this.row.pull })}: ${said}`}>
      ${axisSteps({ low: warm(cold_c), high: warm(hot_c) }, 8).map((step) => {
        const at = x(this.system === "us" ? (step - 32) / 1.8 : step);
        return svg`<line class="grid" x1=${at} x2=${at} y1=${MARGIN.top} y2=${HEIGHT - MARGIN.bottom} /><text x=${at} y=${HEIGHT - MARGIN.bottom + 16} text-anchor="middle">${step}</text>`;
      })}
      ${axisSteps({ low: 0, high: most }, 6).map((step) => {
        const at = y(step * unit);
        return svg`<line class="grid" x1=${MARGIN.left} x2=${WIDTH - MARGIN.right} y1=${at} y2=${at} /><text x=${MARGIN.left - 8} y=${at + 4} text-anchor="end">${step.toLocaleString("en-US")}</text>`;
      })}
      <polygon class="window" points=${[...upper, ...lower].join(" ")} />
      <polyline class="tension" points=${curve} />
      ${known.map((day) => svg`<circle class="dot" r="3.5" cx=${x(day.temperature_c)} cy=${y(day.tension_n ?? 0)}><title>${showTemperature(day.temperature_c, this.system)}: ${showForce(day.tension_n, this.system)}</title></circle>`)}
      <text x=${(WIDTH + MARGIN.left) / 2} y=${HEIGHT - 6} text-anchor="middle">${say("rail_temperature")} (${this.system === "us" ? "°F" : "°C"})</text>
      <text transform="rotate(-90 14 ${HEIGHT / 2})" x="14" y=${HEIGHT / 2} text-anchor="middle">${say("tension")} (${this.system === "us" ? "lbf" : "N"})</text>
    </svg>`;
  }
}

function daysOf(row: TensionRow | null): Day[] {
  return (row?.chart ?? []).flatMap((day) => {
    const [low, high] = day.window_n;
    if (day.rail_temperature_c === null || typeof low !== "number" || typeof high !== "number") return [];
    return [{ temperature_c: day.rail_temperature_c, tension_n: day.tension_n, low_n: low, high_n: high }];
  });
}

declare global {
  interface HTMLElementTagNameMap {
    "tension-chart": TensionChart;
  }
}
