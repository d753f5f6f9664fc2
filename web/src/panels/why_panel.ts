/** Why a number is what it is: inputs, formula, clause and source, as the program's own record has them. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api, type WhyAnswer } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import { inPage, langOf, langOfSaid, partsInPage } from "../texts/program.ts";
import { languageInUse, say } from "../texts/say.ts";
import { unitWord } from "../texts/unit_words.ts";
import type { System } from "../units/show.ts";
import { showValue } from "../units/show_value.ts";
import { answered } from "./kept_answers.ts";
import { SUMS } from "./sums.ts";

type Reason = WhyAnswer["reasons"][number];

/** Kinds whose names say less than their words. */
const NAMED_BY_WORDS: ReadonlySet<string> = new Set(["order line", "price line", "activity"]);

/** A formula with words in it, beside functions and letters. */
const HAS_WORDS =
  /\b(?!ceil|round|sqrt|theta|alpha|sigma|hinge|atan)[a-z]{4,}\b| or | and | of | to | the | where /;

/** The name of another thing, where a text leads to its reasons: `price:direct`, `see Why of P3`. */
function namedIn(text: string): string {
  const [, part, thing] = /((?:price|programme):[\w.-]+)|Why of (\S+(?: length)?)$/.exec(text) ?? [];
  return part ?? thing ?? "";
}

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
      td.name { width: 100%; overflow-wrap: anywhere; }
      td.name button { margin: 0.2rem 0; overflow-wrap: anywhere; }
      tr + tr td { border-top: 1px solid var(--faint); }
      td.value { text-align: right; font-variant-numeric: tabular-nums; }
      td.value.one { white-space: nowrap; }
      h3 > span { min-width: 0; overflow-wrap: anywhere; }
      td:first-child code { white-space: nowrap; overflow-wrap: normal; }
      code { font-family: inherit; font-style: italic; overflow-wrap: anywhere; }
    `,
  ];

  @property() jobId = "";
  /** Anything that has a why, by its name: `P17`, `C4`, an order line, `price:total`, `programme:pull-1`. */
  @property() thing = "";
  /** Number that was pressed: its reason is brought into view. */
  @property() about = "";
  @property() system: System = "us";
  /** The revision shown: another one asks again. */
  @property({ type: Number }) revision = 0;
  /** The program cannot be reached: what came before is shown. */
  @property({ type: Boolean }) locked = false;
  @state() private answer: WhyAnswer | null = null;
  @state() private refused = "";
  @state() private isBusy = false;

  override willUpdate(changed: Map<string, unknown>): void {
    if (!changed.has("thing") || this.thing) return;
    this.answer = null;
    this.refused = "";
    this.isBusy = false;
  }

  override updated(changed: Map<string, unknown>): void {
    if (changed.has("about") && !changed.has("thing")) this.reveal();
    if (this.thing && (changed.has("thing") || changed.has("revision") || changed.has("locked")))
      void this.ask();
  }

  private reveal(): void {
    const asked =
      this.about && this.renderRoot.querySelector(`article[data-name="${CSS.escape(this.about)}"]`);
    if (asked) asked.scrollIntoView({ block: "start" });
  }

  private async ask(): Promise<void> {
    const wanted = this.thing;
    this.isBusy = true;
    try {
      const answer = await answered(`${this.jobId} ${this.revision} why ${wanted}`, !this.locked, () =>
        api.why(this.jobId, wanted),
      );
      if (wanted !== this.thing) return;
      this.answer = answer;
      this.refused = "";
      this.isBusy = false;
      await this.updateComplete;
      this.reveal();
    } catch (error) {
      if (wanted !== this.thing) return;
      this.answer = null;
      this.isBusy = false;
      this.refused = error instanceof Error && error.message ? error.message : say("lost");
    }
  }

  override render(): TemplateResult {
    return html`<h2>${say("panel_why")}</h2><form class="row" @submit=${(event: Event) => {
      event.preventDefault();
      this.thing = String(new FormData(event.target as HTMLFormElement).get("thing") ?? "").trim();
    }}>
        <label for="thing"><span>${say("why_of")}</span><input id="thing" name="thing" .value=${this.thing} placeholder="P17, B3, R1-2, C4" /></label>
        <button class="main">${say("why")}</button></form>
      ${this.thing ? nothing : this.beginning()}
      ${this.isBusy ? html`<p class="quiet" role="status">${say("is_following")}</p>` : nothing}
      ${this.refused ? html`<p class="refused" role="alert" lang=${langOfSaid(this.refused)}>${inPage(this.refused)}</p>` : nothing}
      ${this.answer ? html`<h2 class="of">${this.heading(this.answer)}</h2>${this.answer.reasons.map((reason) => this.one(reason))}` : nothing}`;
  }

  /** Nothing is asked yet: where the numbers are that have a why, and those of the whole job. */
  private beginning(): TemplateResult {
    return html`<p class="quiet">${say("why_begin")}</p>
      <div class="row">${SUMS.map(
        ({ word, thing }) =>
          html`<button @click=${() => {
            this.thing = thing;
          }}>${say(word)}</button>`,
      )}</div>`;
  }

  /** Posts, pulls and rolls are known by their names; the rest by what they are. */
  private heading({ id, kind, where }: WhyAnswer): TemplateResult {
    const words = this.said(where);
    return NAMED_BY_WORDS.has(kind)
      ? html`${words} <small>${id}</small>`
      : html`${id} <small>${words}</small>`;
  }

  private one(reason: Reason): TemplateResult {
    const { name, says, words, symbols, inputs, next_smaller, result } = reason;
    return html`<article data-name=${name} class=${name === this.about ? "asked" : ""}>
      <h3>${this.said(name)}<span lang=${typeof result === "string" ? langOf(result) : nothing}>${this.shown(result, reason.unit)}</span></h3>
      <p>${this.said(says)}</p>
      ${words ? html`<p class="quiet">${this.said(words)}${symbols ? html`<br /><code lang=${HAS_WORDS.test(symbols) ? langOf(symbols) : nothing}>${inPage(symbols)}</code>` : nothing}</p>` : nothing}
      ${inputs.length ? html`<div class="wide"><table><tbody>${inputs.map((input) => html`<tr><td><code>${input.symbol}</code></td><td class="name">${this.said(input.name)}<br /><small>${this.said(input.origin)}</small>${this.way(input.origin)}</td><td class=${Array.isArray(input.value) ? "value" : "value one"}>${this.shown(input.value, input.unit)}</td></tr>`)}</tbody></table></div>` : nothing}
      ${reason.source ? html`<p><small>${this.cited(reason)}</small></p>` : nothing}
      ${next_smaller ? html`<p>${this.said(next_smaller)}</p>` : nothing}
    </article>`;
  }

  /** A publication by its title, which nobody translates; common practice, a row of prices and a clause are the program's words. */
  private cited({ source, source_text, clause }: Reason): TemplateResult {
    const title = source_text || source;
    const own = languageInUse() !== "en" && source !== "practice" && title !== source;
    return html`${own ? html`<span lang="en">${title}</span>` : this.said(title)}${clause ? html`, ${this.said(clause)}` : nothing}`;
  }

  /** What the program says, in the page's language where that is known; else marked as what it is. */
  private said(text: string): TemplateResult {
    return html`${partsInPage(text).map(({ words, lang }) => html`<span lang=${lang}>${words}</span>`)}`;
  }

  /** The way to the reasons of a number that came from another. */
  private way(origin: string): TemplateResult | typeof nothing {
    const thing = namedIn(origin);
    if (!thing) return nothing;
    return html`<br /><button @click=${() => {
      this.thing = thing;
    }}>${say("why_of_it", { name: thing })}</button>`;
  }

  private shown(value: Reason["result"], unit: string): string {
    return typeof value === "string" ? inPage(value) : showValue(value, unit, this.system, unitWord);
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "why-panel": WhyPanel;
  }
}
