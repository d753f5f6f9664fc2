/** The list of what stands on the lines: press one for its numbers. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import { controls } from "../look/controls.ts";
import type { Held } from "../plan/hands.ts";
import { type Key, say } from "../texts/say.ts";
import { disclosure } from "./disclosure.ts";
import { heldMark, type Mark, marksOf, STANDING_TABLES } from "./standing.ts";

const MOST = 100; // of one kind: a longer list serves nobody

@customElement("standing-list")
export class StandingList extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`
      :host { display: block; }
      details { border-top: 1px solid var(--line); border-bottom: 1px solid var(--line); margin: 0.6rem 0; }
      h4 { margin: 0.5rem 0 0.2rem; font-size: 0.9rem; color: var(--soft); }
      ul { list-style: none; margin: 0 0 0.6rem; padding: 0; display: grid; gap: 0.25rem; }
      li button { width: 100%; justify-content: start; text-align: left; overflow-wrap: anywhere; font-variant-numeric: tabular-nums; padding-block: 0.4rem; }
    `,
  ];

  @property({ attribute: false }) asked: Record<string, unknown> = {};
  @property({ attribute: false }) held: Held | null = null;

  override render(): TemplateResult | typeof nothing {
    const marks = marksOf(this.asked);
    if (marks.length === 0) return nothing;
    return html`<details ?open=${this.held === null}><summary>${say("stands_on_lines", { count: marks.length })}</summary>
      ${STANDING_TABLES.map((table) => this.group(table, marks))}</details>`;
  }

  private group(table: Mark["table"], all: readonly Mark[]): TemplateResult | typeof nothing {
    const marks = all.filter((mark) => mark.table === table);
    if (marks.length === 0) return nothing;
    return html`<h4>${say(`table_${table}` as Key)}</h4><ul>${marks
      .slice(0, MOST)
      .map((mark) => html`<li><button @click=${() => this.choose(mark)}>${mark.words}</button></li>`)}</ul>
      ${marks.length > MOST ? html`<p class="quiet">${say("rows_more", { count: marks.length - MOST })}</p>` : nothing}`;
  }

  private choose(mark: Mark): void {
    this.dispatchEvent(
      new CustomEvent("thing-chosen", { detail: heldMark(mark), bubbles: true, composed: true }),
    );
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "standing-list": StandingList;
  }
}
