/** The findings: each leads to its place, and has its remedy as a button where the program can do it. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property } from "lit/decorators.js";
import { guard } from "lit/directives/guard.js";
import { repeat } from "lit/directives/repeat.js";
import type { FindingRow } from "../api/records.ts";
import { findingWords, inPage, langOf, wordsInUse } from "../texts/program.ts";
import { languageInUse, say } from "../texts/say.ts";
import type { SchemaNode } from "./fields.ts";
import { type FormPlace, inFormWords, openWords, placesIn, placeWords } from "./form_words.ts";
import { whenNear } from "./near.ts";

const MARKS: Record<string, string> = { stop: "■", caution: "▲", note: "●" };

/** Kinds of places that are called by a row of the catalogue, not by a name of the job's own. */
const OF_PRODUCTS: ReadonlySet<string> = new Set(["rail", "roll"]);

@customElement("finding-list")
export class FindingList extends LitElement {
  static override styles = css`
    ol { list-style: none; margin: 0; padding: 0; display: grid; gap: 0.5rem; }
    /* those that are scrolled out of sight are neither laid out nor painted */
    li { border-left: 5px solid var(--mark); padding: 0.4rem 0.6rem; background: var(--raised); display: grid; gap: 0.3rem; content-visibility: auto; contain-intrinsic-size: auto 9rem; }
    .following .late { border-left-style: dashed; color: var(--soft); }
    p { margin: 0; }
    .stop { --mark: var(--stop); }
    .caution { --mark: var(--caution); }
    .note { --mark: var(--note); }
    h3 { margin: 0; font-size: 1rem; overflow-wrap: anywhere; }
    h3 .level { color: var(--mark); }
    h3 .place { font-weight: 400; }
    p { overflow-wrap: anywhere; }
    .remedy { color: var(--soft); }
    .acts { display: flex; gap: 0.5rem; flex-wrap: wrap; }
    button { font: inherit; min-height: 2.75rem; padding: 0 0.8rem; border-radius: 4px; border: 1px solid var(--soft); background: var(--paper); color: var(--ink); cursor: pointer; }
    button.mend { background: var(--accent); color: var(--on-accent); border-color: var(--accent); }
    :focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
  `;

  @property({ attribute: false }) findings: readonly FindingRow[] = [];
  /** Codes that only a whole design tells; while it is still to come (`isFollowing`), they are of the one before. */
  @property({ attribute: false }) late: ReadonlySet<string> = new Set();
  @property({ attribute: false }) isFollowing = false;
  @property({ type: Boolean }) locked = false;
  /** Of the job file: says which of its names are fields of the forms. */
  @property({ attribute: false }) schema: SchemaNode | null = null;

  private tell(name: string, detail: FindingRow | FormPlace): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  /** What the program says, with the names of the forms in place of the job file's. */
  private said(text: string): string {
    return inFormWords(inPage(text), this.schema);
  }

  /** The way to a field of the job's forms, or to a list of them, that a finding names. */
  private opens(place: FormPlace, _: number, all: readonly FormPlace[]): TemplateResult {
    const name = placeWords(place, this.schema);
    const words = all.length > 1 ? say("open_named", { name }) : openWords(place);
    return html`<button aria-label=${all.length > 1 ? nothing : `${words}: ${name}`} @click=${() => this.tell("field-wanted", place)}>${words}</button>`;
  }

  override render(): TemplateResult {
    if (this.findings.length === 0) return html`<p role="status">${say("no_findings")}</p>`;
    // an answer changes few of them: those that stay are told from the rest, and left as they are
    const seen = new Map<string, number>();
    const keyOf = ({ code, where }: FindingRow) => {
      const key = [code, where.kind, where.id, where.line].join(" ");
      const times = (seen.get(key) ?? 0) + 1;
      seen.set(key, times);
      return `${key} ${times}`;
    };
    const told = [this.schema, this.locked, languageInUse(), wordsInUse()];
    const one = (finding: FindingRow) =>
      guard([JSON.stringify(finding), this.late.has(finding.code), ...told], () => this.one(finding));
    return html`<ol class=${this.isFollowing ? "following" : ""} aria-busy=${this.isFollowing ? "true" : nothing}>${repeat(this.findings, keyOf, one)}</ol>`;
  }

  /** Heading in the page's language; below it what the program says, with its numbers, in that language or marked. */
  private one(finding: FindingRow): TemplateResult {
    const { where, message, remedy } = finding;
    const { heading, mends } = findingWords(finding.code);
    const place = [
      where.kind === "job" || OF_PRODUCTS.has(where.kind) ? "" : inPage(where.kind),
      OF_PRODUCTS.has(where.kind) ? inPage(where.id) : where.id,
      where.id === where.line ? "" : where.line,
    ]
      .filter(Boolean)
      .join(" ");
    const level = say(`level_${finding.level}` as never);
    return html`<li class=${this.late.has(finding.code) ? `${finding.level} late` : finding.level}>
      <h3><span class="level"><span aria-hidden="true">${MARKS[finding.level] ?? ""}</span> ${level}:</span> ${heading}${place ? html` <span class="place">· ${place}</span>` : nothing}</h3>
      <p lang=${langOf(message)}>${this.said(message)}</p>
      ${mends && remedy && langOf(remedy) !== nothing ? html`<p class="remedy">${mends}</p>` : nothing}
      ${remedy ? html`<p class="remedy" lang=${langOf(remedy)}>${this.said(remedy)}</p>` : nothing}
      <div class="acts">
        ${where.id || where.line ? html`<button aria-label=${`${say("show_place")}: ${place || where.line}`} @click=${() => this.tell("finding-place", finding)}>${say("show_place")}</button>` : nothing}
        ${finding.edits.length && !this.locked ? html`<button class="mend" aria-label=${`${say("do_it")}: ${langOf(remedy) === nothing ? this.said(remedy) : heading}`} ${whenNear(() => this.tell("finding-near", finding))} @click=${() => this.tell("finding-mend", finding)}>${say("do_it")}</button>` : nothing}
        ${placesIn([remedy, message], this.schema).map(this.opens, this)}
      </div>
    </li>`;
  }
}

declare global {
  interface HTMLElementTagNameMap {
    "finding-list": FindingList;
  }
}
