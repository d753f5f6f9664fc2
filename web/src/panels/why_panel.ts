/** Why a number is what it is: inputs, formula, clause and source, as the program's own record has them. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type WhyAnswer } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { say } from "../texts/say.ts";
import { inJobUnits, type System } from "../units/show.ts";

type Reason = WhyAnswer["reasons"][number];

@customElement("why-panel")
export class WhyPanel extends LitElement {
  static override styles = [
    controls,
    css`
      form { margin-bottom: 1rem; }
      article.asked { border-left: 5px solid var(--accent); padding-left: 0.6rem; }
      article { border-top: 1px solid var(--line); padding: 0.6rem 0; }
      h3 { margin: 0 0 0.2rem; display: flex; gap: 0.6rem; justify-content: space-between; flex-wrap: wrap; }
      table { border-collapse: collapse; width: 100%; font-size: 0.9rem; }
      td { padding: 0.15rem 0.5rem 0.15rem 0; vertical-align: top; }
      td:nth-child(3) { text-align: right; white-space: nowrap; }
      td:first-child code { white-space: nowrap; overflow-wrap: normal; }
      code { font-family: inherit; font-style: italic; overflow-wrap: anywhere; }
    `,
  ];

  @property() jobId = "";
  /** Post, brace, pull, gate or crossing. */
  @property() thing = "";
  /** Number that was pressed: its reason is brought into view. */
  @property() about = "";
  @property() system: System = "us";
  /** The revision shown: another one asks again. */
  @property({ type: Number }) revision = 0;
  @state() private answer: WhyAnswer | null = null;
  @state() private refused = "";

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("about") && !changed.has("thing")) this.reveal();
    if (this.thing && (changed.has("thing") || changed.has("revision"))) void this.ask();
  }

  private reveal(): void {
    const asked =
      this.about && this.renderRoot.querySelector(`article[data-name="${CSS.escape(this.about)}"]`);
    if (asked) asked.scrollIntoView({ block: "start" });
  }

  private async ask(): Promise<void> {
    const wanted = this.thing;
    try {
      const answer = await api.why(this.jobId, wanted);
      if (wanted !== this.thing) return;
      this.answer = answer;
      this.refused = "";
      await this.updateComplete;
      this.reveal();
    } catch (error) {
      if (wanted !== this.thing) return;
      this.answer = null;
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_why")}</h2><form class="row" @submit=${(event: Event) => {
      event.preventDefault();
      this.thing = String(new FormData(event.target as HTMLFormElement).get("thing") ?? "").trim();
    }}>
        <label for="thing"><span>${say("why_of")}</span><input id="thing" name="thing" .value=${this.thing} placeholder="P17, B3, R1-2" /></label>
        <button class="main">${say("why")}</button></form>
      ${this.refused ? html`<p class="refused" role="alert">${this.refused}</p>` : nothing}
      ${this.answer ? html`<h2 class="of">${this.answer.id} <small>${this.answer.where}</small></h2>${this.answer.reasons.map((reason) => this.one(reason))}` : nothing}`;
  }

  private one(reason: Reason): TemplateResult {
    const own = inJobUnits(reason.result, reason.unit, this.system);
    const si = `${shown(reason.result)} ${reason.unit === "1" ? "" : reason.unit}`;
    return html`<article data-name=${reason.name} class=${reason.name === this.about ? "asked" : ""}>
      <h3><span>${reason.name}</span><span>${own || si}${own ? html` <small>${si}</small>` : nothing}</span></h3>
      <p>${reason.says}</p>
      ${reason.words ? html`<p class="quiet">${reason.words}${reason.symbols ? html`<br /><code>${reason.symbols}</code>` : nothing}</p>` : nothing}
      ${reason.inputs.length ? html`<div class="wide"><table><tbody>${reason.inputs.map((input) => html`<tr><td><code>${input.symbol}</code></td><td>${input.name}</td><td>${shown(input.value)} ${input.unit === "1" ? "" : input.unit}</td><td class="quiet">${input.origin}</td></tr>`)}</tbody></table></div>` : nothing}
      ${reason.source ? html`<p><small>${[reason.source_text || reason.source, reason.clause].filter(Boolean).join(", ")}</small></p>` : nothing}
      ${reason.next_smaller ? html`<p>${reason.next_smaller}</p>` : nothing}
    </article>`;
  }
}

function shown(value: unknown): string {
  if (typeof value === "number")
    return Number(value.toPrecision(5)).toLocaleString("en-US", { maximumFractionDigits: 6 });
  if (Array.isArray(value)) return value.map(shown).join(", ");
  return value === null || value === undefined ? "–" : String(value);
}

declare global {
  interface HTMLElementTagNameMap {
    "why-panel": WhyPanel;
  }
}
