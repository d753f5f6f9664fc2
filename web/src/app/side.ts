/** The panel beside the drawing: one of many, by its name. */

import { css, html, LitElement, nothing, type TemplateResult } from "lit";
import { customElement, property, state } from "lit/decorators.js";
import type {
  CheckRow,
  OrderRow,
  PostRow,
  PullRow,
  RollRow,
  SiteCheckRow,
  TensionRow,
} from "../api/records.ts";
import { controls } from "../look/controls.ts";
import {
  checkColumns,
  orderColumns,
  postColumns,
  pullColumns,
  rollColumns,
  siteCheckColumns,
  tensionColumns,
} from "../panels/columns.ts";
import type { SchemaNode } from "../panels/fields.ts";
import type { Held } from "../plan/hands.ts";
import type { PlanModel } from "../plan/model.ts";
import { isNothing } from "../state/changes.ts";
import type { Session } from "../state/session.ts";
import { rowsOf } from "../state/tables.ts";
import { type Key, say, wordOr } from "../texts/say.ts";
import { showLong, showNumber, showSmall } from "../units/show.ts";
import { stageNames, type ViewName } from "./panels.ts";
import "../panels/chosen.ts";
import "../panels/findings.ts";
import "../panels/history.ts";
import "../panels/job_form.ts";
import "../panels/parts.ts";
import "../panels/several.ts";
import "../panels/site_files.ts";
import "../panels/table.ts";
import "../panels/take_away.ts";
import "../panels/tension_chart.ts";
import "../panels/why_panel.ts";

/** Tables whose rows are pulls: pressing one asks why. */
const OF_PULLS: ReadonlySet<string> = new Set(["pulls", "tension"]);

/** Tables of the job file that have a form. */
const TABLES = [
  "job",
  "site",
  "fence",
  "posts",
  "holes",
  "brace",
  "top_line",
  "rolls",
  "tension",
  "strength",
  "stake_out",
  "stock",
  "price",
  "risk",
  "programme",
  "paper",
] as const;

@customElement("job-side")
export class JobSide extends LitElement {
  static override styles = [
    controls,
    css`
      .cautions { border: 1px solid var(--caution); padding: 0.4rem 0.7rem; margin-bottom: 0.8rem; }
      .cautions p { margin: 0.1rem 0; font-size: 0.9rem; }
      .sums { display: grid; grid-template-columns: repeat(auto-fill, minmax(8.5rem, 1fr)); gap: 0.5rem; margin: 0 0 1rem; }
      .sums div { border-left: 3px solid var(--line); padding-left: 0.5rem; }
      .sums dt { font-size: 0.85rem; }
      .sums dd { font-size: 1.15rem; font-weight: 600; }
      details { border-top: 1px solid var(--line); }
      summary { min-height: 2.75rem; display: flex; align-items: center; cursor: pointer; font-weight: 600; }
      summary::before { content: "▸"; margin-right: 0.5rem; }
      details[open] > summary::before { content: "▾"; }
      textarea { width: 100%; min-height: 20rem; font-family: ui-monospace, "DejaVu Sans Mono", monospace; font-size: 0.85rem; padding: 0.5rem; }
    `,
  ];

  @property({ attribute: false }) session: Session | null = null;
  @property({ type: Number }) tick = 0;
  @property() view: ViewName = "findings";
  @property({ attribute: false }) held: Held | null = null;
  @property({ attribute: false }) model: PlanModel | null = null;
  @property({ attribute: false }) post: PostRow | null = null;
  @property() thing = "";
  @property({ attribute: false }) schema: SchemaNode | null = null;
  @property({ type: Boolean }) locked = false;
  @property() chosen = "";
  /** Number that the person asked about. */
  @property() about = "";
  /** Posts chosen together. */
  @property({ attribute: false }) several: ReadonlySet<string> = new Set();
  /** Kinds of things in the way. */
  @property({ attribute: false }) kinds: readonly string[] = [];
  @property({ attribute: false }) cautions: readonly string[] = [];
  @state() private ticks = false;
  @state() private pull = "";
  @state() private textRefused = "";

  private rows<Row>(table: string): Row[] {
    return rowsOf<Row>(this.session?.answer.tables ?? {}, table);
  }

  private tell(name: string, detail: unknown): void {
    this.dispatchEvent(new CustomEvent(name, { detail, bubbles: true, composed: true }));
  }

  override render(): TemplateResult | typeof nothing {
    const { session } = this;
    if (!session) return nothing;
    switch (this.view) {
      case "chosen":
        return this.chosenView(session);
      case "job":
        return this.jobView(session);
      case "posts":
        return this.postsView(session);
      case "order":
        return html`<h2>${say("panel_order")}</h2>${this.table("order", orderColumns(), this.rows<OrderRow>("order"))}${this.later(session)}`;
      case "rolls":
        return this.rollsView(session);
      case "tension":
        return this.tensionView(session);
      case "strength":
        return this.strengthView(session);
      case "price":
        return html`<job-part kind="price" .system=${session.answer.sheets} .jobId=${session.state.id} .head=${session.state.head}></job-part>`;
      case "programme":
        return html`<job-part kind="programme" .jobId=${session.state.id} .head=${session.state.head}></job-part>`;
      case "why":
        return html`<why-panel .jobId=${session.state.id} .thing=${this.thing || this.chosen} .about=${this.about} .system=${session.answer.sheets} .revision=${session.state.head}></why-panel>`;
      case "history":
        return html`<job-history .jobId=${session.state.id} .head=${session.state.head} .locked=${this.locked}></job-history>`;
      case "take_away":
        return html`<take-away .jobId=${session.state.id} .head=${session.state.head}></take-away>${this.cautionBox()}`;
      default:
        return this.findingsView(session);
    }
  }

  private later(session: Session): TemplateResult | typeof nothing {
    return session.answer.pending.length
      ? html`<p class="quiet" role="status">${say("following", { stages: stageNames(session.answer.pending) })}</p>`
      : nothing;
  }

  private cautionBox(): TemplateResult | typeof nothing {
    return this.cautions.length
      ? html`<div class="cautions">${this.cautions.map((caution) => html`<p>${caution}</p>`)}</div>`
      : nothing;
  }

  private table<Row extends object>(
    name: string,
    columns: ReturnType<typeof orderColumns> | readonly unknown[],
    rows: readonly Row[],
    idOf: ((row: Row) => string) | null = null,
  ): TemplateResult {
    return html`<fence-table .name=${name} .heading=${wordOr(`panel_${name}`, wordOr(name.replace("-", "_"), name))} .columns=${columns} .rows=${rows} .idOf=${idOf} .selected=${this.chosen}
      .ticked=${name === "posts" && this.ticks ? this.several : null}
      @rows-ticked=${(event: CustomEvent<string[]>) => this.tell("posts-ticked", event.detail)}
      @row-why=${(event: CustomEvent<string>) => this.tell("why-asked", { thing: event.detail, about: "" })}
      @row-chosen=${(event: CustomEvent<string>) => (OF_PULLS.has(name) ? this.tell("why-asked", { thing: event.detail, about: "" }) : this.tell("post-chosen", event.detail))}></fence-table>`;
  }

  private findingsView(session: Session): TemplateResult {
    const { summary, sheets } = session.answer;
    const posts = summary ? Object.values(summary.posts).reduce((sum, count) => sum + count, 0) : 0;
    const sums: [string, string][] = summary
      ? [
          [say("fence_length"), showLong(summary.fence_length_m, sheets)],
          [say("posts"), showNumber(posts)],
          [say("rail_length"), showLong(summary.rail_length_m, sheets)],
          [say("panel_rolls"), showNumber(summary.rolls)],
          [say("pulls"), showNumber(summary.pulls)],
          [say("bags"), showNumber(Math.ceil(summary.bags ?? 0))],
        ]
      : [];
    return html`<h2>${say("panel_findings")}</h2>
      <dl class="sums">${sums.map(([title, value]) => html`<div><dt>${title}</dt><dd>${value}</dd></div>`)}</dl>
      ${this.changed(session)}
      <finding-list .findings=${session.answer.findings} .locked=${this.locked}></finding-list>${this.later(session)}`;
  }

  /** What the last edit changed, in sums, order and posts. */
  private changed(session: Session): TemplateResult | typeof nothing {
    const { changes } = session;
    if (!changes || session.answer.pending.length) return nothing;
    const { sheets } = session.answer;
    const sum = (row: (typeof changes.sums)[number], value: number) =>
      row.key.endsWith("_length") ? showLong(value, sheets) : showNumber(value);
    const posts: [Key, string[]][] = [
      ["posts_added", changes.added],
      ["posts_moved", changes.moved],
      ["tops_changed", changes.tops],
      ["cuts_changed", changes.cuts],
      ["holes_changed", changes.holes],
    ];
    return html`<details class="changes" ?open=${!isNothing(changes)}><summary>${say("changed")}</summary>${
      isNothing(changes)
        ? html`<p>${say("no_changes")}</p>`
        : html`<dl>
        ${changes.sums.map((row) => html`<dt>${say(row.key)}</dt><dd>${sum(row, row.before)} → ${sum(row, row.after)}</dd>`)}
        ${changes.gone ? html`<dt>${say("posts_gone")}</dt><dd>${changes.gone}</dd>` : nothing}
        ${posts.filter(([, ids]) => ids.length).map(([key, ids]) => html`<dt>${say(key)}</dt><dd>${ids.length}: ${brief(ids)}</dd>`)}
        ${changes.order.map((row) => html`<dt>${row.item}</dt><dd>${showNumber(row.before, decimalsOf(row.before))} → ${showNumber(row.after, decimalsOf(row.after))} ${row.unit}</dd>`)}
      </dl>`
    }</details>`;
  }

  private chosenView(session: Session): TemplateResult {
    return html`<h2>${say("panel_chosen")}</h2>${this.together(session)}<chosen-thing .kinds=${this.kinds} .held=${this.held} .model=${this.model} .post=${this.post} .asked=${session.state.asked} .system=${session.answer.sheets}
      .locked=${this.locked} .pinned=${Boolean((this.post as { is_pinned?: boolean } | null)?.is_pinned)}></chosen-thing>${this.held ? this.changed(session) : nothing}`;
  }

  /** What can be done to the posts chosen together. */
  private together(session: Session): TemplateResult | typeof nothing {
    if (this.several.size === 0) return nothing;
    const posts = this.rows<PostRow>("posts").filter((post) => this.several.has(post.id));
    return html`<several-posts .posts=${posts} .asked=${session.state.asked} .usual=${showSmall(posts[0]?.above_ground_m, session.answer.sheets)} .locked=${this.locked}></several-posts>`;
  }

  private jobView(session: Session): TemplateResult {
    const asked = session.state.asked as Record<string, Record<string, unknown> | undefined>;
    return html`<h2>${say("panel_job")}</h2>
      <site-files .unit_m=${session.answer.unit_m} .jobId=${session.state.id} .state=${session.state} .locked=${this.locked} .kinds=${this.kinds}></site-files>
      ${TABLES.map(
        (table) => html`<details ?open=${table === "job"}><summary>${say(`table_${table}`)}</summary>
        <job-form .schema=${this.schema} .table=${table} .values=${asked[table] ?? {}} .locked=${this.locked}></job-form></details>`,
      )}
      <details><summary>${say("job_text")}</summary>${this.text(session)}</details>`;
  }

  private text(session: Session): TemplateResult {
    const sent = (event: Event) => {
      event.preventDefault();
      const text = String(new FormData(event.target as HTMLFormElement).get("text") ?? "");
      this.tell("edit-asked", {
        edit: { kind: "replace_text", text },
        answered: (refused: string) => {
          this.textRefused = refused;
        },
      });
    };
    return html`<form @submit=${sent}><label for="text"><span>job.toml</span><textarea id="text" name="text" spellcheck="false" .value=${session.state.text} ?disabled=${this.locked}></textarea></label>
      ${this.textRefused ? html`<p class="refused" role="alert">${this.textRefused}</p>` : nothing}
      <button class="main" ?disabled=${this.locked}>${say("use_text")}</button></form>`;
  }

  private postsView(session: Session): TemplateResult {
    return html`<h2>${say("posts")}</h2>
      <div class="row"><button aria-pressed=${this.ticks} @click=${() => {
        this.ticks = !this.ticks;
        if (!this.ticks) this.tell("posts-ticked", []);
      }}>${say("choose_several")}</button></div>${this.together(session)}${this.table("posts", postColumns(session.answer.sheets), this.rows<PostRow>("posts"), (row: PostRow) => row.id)}${this.later(session)}`;
  }

  private rollsView(session: Session): TemplateResult {
    const { sheets } = session.answer;
    return html`<h2>${say("panel_rolls")}</h2>${this.table("rolls", rollColumns(sheets), this.rows<RollRow>("rolls"))}
      <h3>${say("pulls")}</h3>${this.table("pulls", pullColumns(sheets), this.rows<PullRow>("pulls"), (row: PullRow) => row.id)}${this.later(session)}`;
  }

  private tensionView(session: Session): TemplateResult {
    const { sheets } = session.answer;
    const rows = this.rows<TensionRow>("tension");
    const row = rows.find((each) => each.pull === this.pull) ?? rows[0] ?? null;
    return html`<h2>${say("panel_tension")}</h2>${this.cautionBox()}
      ${
        rows.length > 1
          ? html`<label for="pull"><span>${say("pull")}</span><select id="pull" @change=${(event: Event) => {
              this.pull = (event.target as HTMLSelectElement).value;
            }}>
        ${rows.map((each) => html`<option value=${each.pull} ?selected=${each.pull === row?.pull}>${each.pull}</option>`)}</select></label>`
          : nothing
      }
      <tension-chart .row=${row} .system=${sheets}></tension-chart>
      ${this.table("tension", tensionColumns(sheets), rows, (row: TensionRow) => row.pull)}
      <h3>${say("site_checks")}</h3>${this.table("site-checks", siteCheckColumns(sheets), this.rows<SiteCheckRow>("site_checks"))}${this.later(session)}`;
  }

  private strengthView(session: Session): TemplateResult {
    // what is counted comes first: a check that is only for comparison is no alarm
    const rows = this.rows<CheckRow>("checks").sort(
      (a, b) => Number(b.counted) - Number(a.counted) || (b.utilisation ?? 9) - (a.utilisation ?? 9),
    );
    return html`<h2>${say("panel_strength")}</h2>${this.cautionBox()}
      ${this.table("checks", checkColumns(session.answer.sheets), rows, (row: CheckRow) => row.post)}${this.later(session)}`;
  }
}

/** Names, the first dozen of them. */
function brief(ids: readonly string[]): string {
  return ids.length > 12 ? `${ids.slice(0, 12).join(", ")}, …` : ids.join(", ");
}

function decimalsOf(value: number): number {
  return Number.isInteger(value) ? 0 : 1;
}

declare global {
  interface HTMLElementTagNameMap {
    "job-side": JobSide;
  }
}
