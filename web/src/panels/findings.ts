/** The findings: each leads to its place, and has its remedy as a button where the program can do it. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import type { FindingRow } from "../api/records.ts";
import { say } from "../texts/say.ts";

const MARKS: Record<string, string> = { stop: "■", caution: "▲", note: "●" };

@customElement("finding-list")
export class FindingList extends LitElement {
  static override styles = css`
    ol { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.5rem; }
    li { border-left: 5px solid var(--mark); padding: 0.4rem 0.6rem; background: var(--raised); display: grid; gap: 0.3rem; }
    p { margin: 0; }
    .stop { --mark: var(--stop); }
    .caution { --mark: var(--caution); }
    .note { --mark: var(--note); }
    strong { color: var(--mark); }
    .remedy { color: var(--soft); }
    .acts { display: flex; gap: 0.5rem; flex-wrap: wrap; }
    button { font: inherit; min-height: 2.75rem; padding: 0 0.8rem; border-radius: 4px; border: 1px solid var(--soft); background: var(--paper); color: var(--ink); cursor: pointer; }
    button.mend { background: var(--accent); color: var(--on-accent); border-color: var(--accent); }
    :focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
  `;

  @property({ attribute: false }) findings: readonly FindingRow[] = [];
  @property({ type: Boolean }) locked = false;

  private tell(name: string, finding: FindingRow): void {
    this.dispatchEvent(new CustomEvent(name, { detail: finding, bubbles: true, composed: true }));
  }

  override render(): TemplateResult {
    if (this.findings.length === 0) return html`<p role="status">${say("no_findings")}</p>`;
    return html`<ol>${this.findings.map((finding) => this.one(finding))}</ol>`;
  }

  private one(finding: FindingRow): TemplateResult {
    const { where } = finding;
    const place = [
      where.kind === "job" ? "" : where.kind,
      where.id,
      where.id === where.line ? "" : where.line,
    ]
      .filter(Boolean)
      .join(" ");
    const level = say(`level_${finding.level}` as never);
    return html`<li class=${finding.level}>
      <p><strong><span aria-hidden="true">${MARKS[finding.level] ?? ""}</span> ${level}${place ? ` · ${place}` : ""}</strong> ${finding.message}</p>
      ${finding.remedy ? html`<p class="remedy">${finding.remedy}</p>` : nothing}
      <div class="acts">
        ${where.id || where.line ? html`<button aria-label=${`${say("show_place")}: ${place || where.line}`} @click=${() => this.tell("finding-place", finding)}>${say("show_place")}</button>` : nothing}
        ${finding.edits.length && !this.locked ? html`<button class="mend" aria-label=${`${say("do_it")}: ${finding.remedy}`} @click=${() => this.tell("finding-mend", finding)}>${say("do_it")}</button>` : nothing}
      </div>
    </li>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "finding-list": FindingList;
  }
}
