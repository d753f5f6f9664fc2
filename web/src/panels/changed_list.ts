/** What the last edit changed: sums, price, spacing, tops, cuts, holes, rolls and order. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import { api } from "../api/client.ts";
import { controls } from "../look/controls.ts";
import type { Changes } from "../state/changes.ts";
import { handRests } from "../state/hand_rests.ts";
import { isNothing } from "../state/no_changes.ts";
import type { PostChange } from "../state/post_changes.ts";
import { inPage, langOf } from "../texts/program.ts";
import { type Key, say } from "../texts/say.ts";
import { unitWord } from "../texts/unit_words.ts";
import { type System, showLong, showNumber, showSmall, showStock } from "../units/show.ts";
import { disclosure } from "./disclosure.ts";

const NAMED = 12;
/** Edits that follow each other faster than this are priced once. */
const RESTED_MS = 400;

interface PriceTold {
  currency?: string;
  total: number | string | null;
}

@customElement("changed-list")
export class ChangedList extends LitElement {
  static override styles = [
    controls,
    disclosure,
    css`:host { display: block; } details { border-top: 1px solid var(--line); } .following dl { color: var(--soft); } dl { margin-bottom: 0.8rem; } dd { font-variant-numeric: tabular-nums; } @media (max-width: 36rem) { dl { grid-template-columns: 1fr; } dd { margin: 0 0 0.4rem 0.8rem; } }`,
  ];

  @property({ attribute: false }) changes: Changes | null = null;
  /** The revisions between which they lie. */
  @property({ attribute: false }) between: readonly [before: number, after: number] = [0, 0];
  @property() jobId = "";
  /** A newer edit is being designed: what it changes is still to come. */
  @property({ attribute: false }) isFollowing = false;
  /** The job has a price book. */
  @property({ type: Boolean }) priced = false;
  @property() system: System = "us";
  /** Price before and after; null while it follows, no text where there is none. */
  @state() private price: readonly [string, string] | "" | null = null;
  private asked = new AbortController();

  override willUpdate(changed: Map<string, unknown>): void {
    if (changed.has("between") || changed.has("jobId") || changed.has("priced")) void this.ask();
    else if (changed.has("isFollowing") && this.isFollowing) this.asked.abort();
    else if (changed.has("isFollowing") && this.price === null) void this.ask();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.asked.abort();
  }

  /**
   * The price follows: it is asked for once the design is whole and the hand rests, and no longer waited for when the
   * next edit comes. A browser has few lines to one program, and an edit must find one free.
   */
  private async ask(): Promise<void> {
    const { between, jobId } = this;
    this.asked.abort();
    this.asked = new AbortController();
    const { signal } = this.asked;
    this.price = this.priced ? null : "";
    if (!this.priced || !between[1]) return;
    await handRests(RESTED_MS);
    try {
      if (signal.aborted) return;
      const before = await api.ownPrice<PriceTold>(jobId, between[0], signal);
      const after = await api.ownPrice<PriceTold>(jobId, between[1], signal);
      this.price = before.total === after.total ? "" : [money(before), money(after)];
    } catch {
      if (!signal.aborted) this.price = ""; // the price panel says why there is none
    }
  }

  override render(): TemplateResult | typeof nothing {
    const { changes, system } = this;
    if (!changes) return nothing;
    const none = isNothing(changes) && !this.price;
    const small = (value: number | null) => showSmall(value, system);
    return html`<details class=${this.isFollowing ? "changes following" : "changes"} aria-busy=${this.isFollowing ? "true" : nothing} ?open=${!none}><summary>${say("changed")}</summary>${
      none && this.price !== null
        ? html`<p>${say("no_changes")}</p>`
        : html`<dl>
        ${this.prices()}
        ${changes.sums.map((row) => this.row(say(row.key), this.sum(row.key, row.before), this.sum(row.key, row.after)))}
        ${this.names("posts_added", changes.added)}
        ${changes.gone ? html`<dt>${say("posts_gone")}</dt><dd>${changes.gone}</dd>` : nothing}
        ${this.names("posts_moved", changes.moved)}
        ${this.numbers("spacing_changed", changes.spacing, (value) => showLong(value, system))}
        ${this.numbers("tops_changed", changes.tops, small)}
        ${this.numbers("cuts_changed", changes.cuts, small)}
        ${this.numbers("stock_changed", changes.stock, (value) => showStock(value, system))}
        ${this.numbers("holes_changed", changes.holes, small)}
        ${this.names("set_changed", changes.set)}
        ${changes.rolls ? html`<dt>${say("rolls_changed")}</dt><dd>${changes.rolls}</dd>` : nothing}
        ${changes.order.map((row) => html`<dt lang=${langOf(row.item)}>${inPage(row.item)}</dt><dd>${showNumber(row.before, decimalsOf(row.before))} → ${showNumber(row.after, decimalsOf(row.after))} ${unitWord(row.unit, row.after)}</dd>`)}
      </dl>`
    }</details>`;
  }

  private prices(): TemplateResult | typeof nothing {
    if (this.price === null)
      return html`<dt>${say("panel_price")}</dt><dd class="quiet" role="status">${say("is_following")}</dd>`;
    return this.price ? this.row(say("panel_price"), ...this.price) : nothing;
  }

  private sum(key: string, value: number): string {
    return key.endsWith("_length") ? showLong(value, this.system) : showNumber(value);
  }

  /** A change too small to be shown is none. */
  private row(title: string, before: string, after: string): TemplateResult | typeof nothing {
    if (before === after) return nothing;
    return html`<dt>${title}</dt><dd>${before} → ${after}</dd>`;
  }

  private names(key: Key, ids: readonly string[]): TemplateResult | typeof nothing {
    return ids.length ? html`<dt>${say(key)}</dt><dd>${ids.length}: ${brief(ids)}</dd>` : nothing;
  }

  /** Numbers that are shown otherwise than before: a change too small for that is none. */
  private numbers(
    key: Key,
    rows: readonly PostChange[],
    show: (value: number | null) => string,
  ): TemplateResult | typeof nothing {
    const told = rows.map((row) => [row.id, show(row.before_m), show(row.after_m)] as const);
    const seen = told.filter(([, before, after]) => before !== after);
    if (seen.length === 0) return nothing;
    const said = seen
      .slice(0, NAMED)
      .map(([id, before, after]) => html`<div>${id}: ${before} → ${after}</div>`);
    return html`<dt>${say(key)}</dt><dd>${seen.length}${said}${seen.length > NAMED ? "…" : nothing}</dd>`;
  }
}

/** Names, the first dozen of them. */
function brief(ids: readonly string[]): string {
  return ids.length > NAMED ? `${ids.slice(0, NAMED).join(", ")}, …` : ids.join(", ");
}

function decimalsOf(value: number): number {
  return Number.isInteger(value) ? 0 : 1;
}

function money({ total, currency }: PriceTold): string {
  if (total === null) return "–";
  const digits = { minimumFractionDigits: 2, maximumFractionDigits: 2 };
  return [Number(total).toLocaleString("en-US", digits), currency ?? ""].filter(Boolean).join(" ");
}

declare global {
  interface HTMLElementTagNameMap {
    "changed-list": ChangedList;
  }
}
